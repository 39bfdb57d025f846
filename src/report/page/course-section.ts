import { groupBy } from '../../lib/group-by.ts';
import type { CourseSeries, Report, SittingCourse } from '../../model/report.ts';
import { formatDuration, formatQuantity } from '../quantity.ts';
import { html, type Markup } from './html.ts';
import { renderTable, type Section } from './section.ts';

/** Temperature, clock and power through each sitting, with the runs marked; null where nothing was sampled. */
export function courseSection(
  { courses, rigs }: Report,
  chartOf: (sitting: string) => Markup | null,
): Section | null {
  if (courses.length === 0) return null;
  const charts = new Map(courses.map(({ sitting }) => [sitting, chartOf(sitting)]));
  const missing = [...charts.values()].filter((chart) => chart === null).length;
  const ofRig = groupBy(courses, ({ rig }) => rig);
  return {
    id: 'courses',
    title: 'Course of the sittings',
    body: html`<p>What the sensors said while it was measured. Boxes, with a grey span below, are runs, hollow ones warm-ups, crosses failed; between dashes the agent was away. Where nothing was read no line is drawn.</p>${missing === 0 ? null : html`<p>${missing} of ${courses.length} courses are in numbers only, which keeps the page small: <code>report --charts</code> draws them all.</p>`}${rigs.map(
      ({ label }, at) => {
        const own = ofRig.get(label) ?? [];
        if (own.length === 0) return html`<p>${label}: no sensor was sampled.</p>`;
        return html`<details${at === 0 ? html` open` : null}><summary>${label}, ${own.length} ${own.length === 1 ? 'sitting' : 'sittings'}</summary>${table(own)}<div class="courses">${own.map(
          ({ sitting }) => {
            const chart = charts.get(sitting) ?? null;
            return chart === null ? null : html`<div><h3>${sitting}</h3>${chart}</div>`;
          },
        )}</div></details>`;
      },
    )}`,
  };
}

function table(courses: readonly SittingCourse[]): Markup {
  return renderTable({
    caption: 'Sensors in numbers',
    columns: [
      { title: 'sitting' },
      { title: 'length', isNumber: true },
      { title: 'temperature' },
      { title: 'clock' },
      { title: 'power' },
    ],
    rows: courses.map(({ sitting, seconds, series }) => [
      sitting,
      formatDuration(seconds),
      ...(['temperature', 'clock', 'power'] as const).map((kind) =>
        rangeText(series.find((one) => one.kind === kind)),
      ),
    ]),
  });
}

function rangeText(series: CourseSeries | undefined): string {
  if (series === undefined) return 'not sampled';
  const { points, unit } = series;
  const low = Math.min(...points.map((point) => point.low));
  const high = Math.max(...points.map((point) => point.high));
  return `${formatQuantity(low, unit, 3)} … ${formatQuantity(high, unit, 3)}`;
}
