import type { Spec } from 'vega';
import type { Report } from '../../model/report.ts';
import { chooseCourses } from '../course/choose-courses.ts';
import { courseChart } from './course-chart.ts';
import { drawSpec } from './draw-spec.ts';
import { effectsChart } from './effects-chart.ts';
import { type Canvas, onPage } from './frame.ts';
import { indexChart } from './index-chart.ts';
import { priceChart } from './price-chart.ts';
import { workloadChart } from './workload-chart.ts';

export interface NamedChart {
  /** `index`, `effects`, `price`, `workload:<workload>:<figure>`, `course:<sitting>`. */
  readonly name: string;
  /** Null where the report has nothing to draw there. */
  readonly spec: (canvas: Canvas) => Spec | null;
}

/** Every chart that a report may have, in the order of the page. */
export function chartsOf(report: Report): readonly NamedChart[] {
  const { effects, worth } = report;
  return [
    { name: 'index', spec: (canvas) => indexChart(report, canvas) },
    ...report.metrics.map((metric) => ({
      name: `workload:${metric.workload}:${metric.metric}`,
      spec: (canvas: Canvas) => workloadChart(report, metric, canvas),
    })),
    {
      name: 'effects',
      spec: (canvas) => (effects === null ? null : effectsChart(report, effects, canvas)),
    },
    {
      name: 'price',
      spec: (canvas) => (worth === null ? null : priceChart(report, worth, canvas)),
    },
    ...report.courses.map((course) => ({
      name: `course:${course.sitting}`,
      spec: (canvas: Canvas) => courseChart(report, course, canvas),
    })),
  ];
}

/**
 * Charts that the page shows beside its tables, by name; workloads and the index are drawn by the page itself. Of very many sittings
 * not every course is there.
 */
export async function pageCharts(whole: Report): Promise<ReadonlyMap<string, string>> {
  const report = { ...whole, courses: chooseCourses(whole.courses) };
  const drawn = new Map<string, string>();
  for (const { name, spec } of chartsOf(report)) {
    const canvas = pageCanvas(report, name);
    const made = canvas === null ? null : spec(canvas);
    if (made !== null) drawn.set(name, await drawSpec(made));
  }
  return drawn;
}

function pageCanvas({ effects, courses }: Report, name: string): Canvas | null {
  if (name.startsWith('course:')) {
    const course = courses.find(({ sitting }) => name === `course:${sitting}`);
    return onPage(100 + 105 * (course?.series.length ?? 0), 760);
  }
  if (name === 'price') return onPage(520);
  if (name !== 'effects') return null;
  const rows = (effects?.metrics ?? []).flatMap((metric) =>
    metric.effects.flatMap(({ contrasts }) => contrasts),
  ).length;
  return onPage(100 + 26 * Math.min(30, rows));
}
