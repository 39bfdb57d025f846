import type { CourseSeries, SittingCourse } from '../../model/report.ts';

/** About what all drawn courses together may take of a page. */
const mostBytes = 750_000;
/** Of axes and names, of a run, of a point with its band: as measured on drawn charts. */
const bytesOf = { chart: 9500, run: 50, point: 31 } as const;
/** Points of a line, finest first: the last still shows every run of a night. */
const grades = [400, 200, 100, 60] as const;

/**
 * Courses as a page can hold them: as fine as all fit; where not even the coarsest fit, those of each rig in turn, first sittings
 * first, as many as do. In the order given.
 */
export function chooseCourses(
  courses: readonly SittingCourse[],
  most: number = mostBytes,
): readonly SittingCourse[] {
  const finest = grades.find((points) => total(courses, points) <= most);
  const points = finest ?? grades[3];
  const kept = finest === undefined ? inTurn(courses, most) : new Set(courses);
  return courses
    .filter((course) => kept.has(course))
    .map((course) => ({
      ...course,
      series: course.series.map((series) => ({
        ...series,
        points: mergePoints(series.points, points),
      })),
    }));
}

function inTurn(courses: readonly SittingCourse[], most: number): ReadonlySet<SittingCourse> {
  const seen = new Map<string, number>();
  const turns = courses.map((course) => {
    const turn = seen.get(course.rig) ?? 0;
    seen.set(course.rig, turn + 1);
    return { course, turn };
  });
  const kept = new Set<SittingCourse>();
  let used = 0;
  for (const { course } of turns.toSorted((a, b) => a.turn - b.turn)) {
    used += bytes(course, grades[3]);
    if (used > most) break;
    kept.add(course);
  }
  return kept;
}

function total(courses: readonly SittingCourse[], points: number): number {
  return courses.reduce((sum, course) => sum + bytes(course, points), 0);
}

function bytes({ runs, series }: SittingCourse, points: number): number {
  const drawn = series.reduce((sum, { points: own }) => sum + Math.min(own.length, points), 0);
  return bytesOf.chart + bytesOf.run * runs.length + bytesOf.point * drawn;
}

/** At most so many points: neighbours become one, with the lowest and the highest of them, so that peaks stay. */
export function mergePoints(points: CourseSeries['points'], most: number): CourseSeries['points'] {
  const each = Math.ceil(points.length / most);
  if (each <= 1) return points;
  return Array.from({ length: Math.ceil(points.length / each) }, (_, at) => {
    const group = points.slice(at * each, (at + 1) * each);
    const average = (of: (point: (typeof group)[number]) => number): number =>
      group.reduce((sum, point) => sum + of(point), 0) / group.length;
    return {
      atSeconds: average(({ atSeconds }) => atSeconds),
      mean: average(({ mean }) => mean),
      low: Math.min(...group.map(({ low }) => low)),
      high: Math.max(...group.map(({ high }) => high)),
    };
  });
}
