import type { CourseSeries, SittingCourse } from '../../model/report.ts';

export interface CoursePoint {
  readonly at: number;
  readonly mean: number;
  readonly low: number;
  readonly high: number;
  /** False between two points that no line joins. */
  readonly isKnown: boolean;
}

/** So many times the usual distance between two points without one is a hole, and nothing is drawn across. */
const usualSteps = 4;

/** Points of a series in the units of a chart, with a break wherever the agent was away or the sensor said nothing. */
export function coursePoints(
  { points }: CourseSeries,
  gaps: SittingCourse['gaps'],
  { seconds, factor }: { readonly seconds: number; readonly factor: number },
): readonly CoursePoint[] {
  const steps = points
    .slice(1)
    .map(({ atSeconds }, at) => atSeconds - (points[at]?.atSeconds ?? 0));
  const usual = steps.toSorted((a, b) => a - b)[Math.floor(steps.length / 2)] ?? 0;
  const longest = usualSteps * usual;
  return points.flatMap(({ atSeconds, mean, low, high }, at): CoursePoint[] => {
    const before = points[at - 1]?.atSeconds ?? atSeconds;
    const isAfterHole =
      atSeconds - before > longest ||
      gaps.some(({ fromSeconds, toSeconds }) => fromSeconds < atSeconds && toSeconds > before);
    const point = {
      at: atSeconds / seconds,
      mean: mean / factor,
      low: low / factor,
      high: high / factor,
      isKnown: true,
    };
    const hole = { ...point, at: (before + atSeconds) / 2 / seconds, isKnown: false };
    return at > 0 && isAfterHole ? [hole, point] : [point];
  });
}
