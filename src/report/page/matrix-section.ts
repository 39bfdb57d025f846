import type { ComparisonRow } from '../../model/comparison.ts';
import { ratioText } from '../comparison/ratio-text.ts';
import { sideFigures } from '../comparison/side-figures.ts';
import { html, type Markup } from './html.ts';
import { renderTable, type Section } from './section.ts';
import { verdictMark } from './verdict-mark.ts';
import type { Shared } from './workload-section.ts';

/** Every verdict at a glance, workloads down, rigs across. */
export function matrixSection({ report, find }: Shared): Section {
  const candidates = report.rigs.slice(1);
  const table = renderTable({
    caption: `Verdicts against ${report.rigs[0]?.label ?? ''}`,
    columns: [{ title: 'workload: figure' }, ...candidates.map(({ label }) => ({ title: label }))],
    rows: report.metrics.map((metric) => [
      `${metric.workload}: ${metric.metric}`,
      ...candidates.map(({ label }): Markup => {
        const row = find(metric, label);
        if (row === undefined) return html`<span class="quiet">not compared</span>`;
        return html`${verdictMark(row, false)} <span class="number">${ratioText(row)}</span><br><span class="quiet">${absoluteText(row)}</span>`;
      }),
    ]),
  });
  return {
    id: 'matrix',
    title: 'All verdicts',
    body: html`<p><b>Better</b> and <b>worse</b> are shown by a test adjusted over all figures; <b>equivalent</b> is surely within what does not matter; <b>undecided</b> is neither.</p>${table}`,
  };
}

/** Both means, since a ratio alone says nothing of size. */
function absoluteText(row: ComparisonRow): string {
  const { baseline, candidate, symbol } = sideFigures(row);
  return `${baseline} → ${candidate} ${symbol}`.trim();
}
