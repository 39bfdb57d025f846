import type { Report } from '../../model/report.ts';
import { ratioText } from '../comparison/ratio-text.ts';
import { indexIntervalText } from '../comparison/summary-sentences.ts';
import { type Content, html, type Markup } from './html.ts';
import type { RatioScale } from './scale.ts';
import type { Section } from './section.ts';
import { ratioStrip, stripAxis } from './strips.ts';

/** All workloads together, one ratio for each rig; null where there is a single workload. */
export function indexSection(
  report: Report,
  scale: RatioScale,
  chart: Markup | null,
): Section | null {
  const [comparison] = report.comparisons;
  const most = Math.max(0, ...comparison.overall.map(({ workloads }) => workloads));
  if (most < 2) return null;
  const rows = report.rigs.map(({ label }, at): Content => {
    const row = comparison.overall.find(({ candidate }) => candidate === label);
    const values =
      at === 0 || row === undefined ? { ratio: at === 0 ? 1 : null, low: null, high: null } : row;
    return html`<tr data-rig="${at}" data-ratio="${values.ratio ?? ''}"><th scope="row" class="rig">${label}${at === 0 ? html` <span class="tag">baseline</span>` : null}</th><td class="ratio-cell">${ratioStrip(values, scale)}</td><td class="number ratio-text">${at === 0 ? '1' : ratioText(values)}</td><td class="number interval-text">${at === 0 || row === undefined ? '' : indexIntervalText(row)}</td></tr>`;
  });
  return {
    id: 'index',
    title: 'All workloads together',
    body: html`<p>Geometric mean of the ratios of ${most} workloads, one figure of each. Above 1 is better than the baseline; the band around 1 is what does not matter (${percent(comparison.matters)}).</p><figure class="chart" data-name="index"><div class="scroll" tabindex="0" role="region" aria-label="Index of all rigs"><table class="strips index"><caption>Index against <span class="baseline-name">${comparison.baseline}</span>, with ${percent(comparison.confidence)} intervals</caption><thead><tr><th scope="col">rig</th><th scope="col" class="ratio-cell"><span class="direction">higher is better →</span>${stripAxis(scale)}</th><th scope="col" class="number">index</th><th scope="col" class="number">interval</th></tr></thead><tbody>${rows}</tbody></table></div></figure>${chart}`,
  };
}

function percent(fraction: number): string {
  return `${Number((fraction * 100).toPrecision(4))} %`;
}
