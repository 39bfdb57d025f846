import type { Report, ReportMetric, RigFigures } from '../../model/report.ts';
import { comparisonFlagTexts } from '../comparison/flag-texts.ts';
import { needsText } from '../comparison/needs-text.ts';
import { intervalText, ratioText } from '../comparison/ratio-text.ts';
import type { Scale } from '../quantity.ts';
import { directionTexts, figureText, metricScale } from './figure-text.ts';
import { html, type Markup } from './html.ts';
import type { RowFinder } from './page-rows.ts';
import { type RatioScale, type StripScale, zeroScale } from './scale.ts';
import type { Section } from './section.ts';
import { figureStrip, ratioStrip, stripAxis } from './strips.ts';
import { verdictMark } from './verdict-mark.ts';

/** What all charts of the page share. */
export interface Shared {
  readonly report: Report;
  readonly find: RowFinder;
  readonly ratios: RatioScale;
}

/** A chart for each figure, which is a table as well: nothing in it is told by the picture alone. */
export function workloadSection(shared: Shared): Section {
  const { report, ratios } = shared;
  return {
    id: 'workloads',
    title: 'Each workload',
    body: html`<p>Bars begin at zero and end at the mean; the line across their end is its interval, and every dot is a run, a line of dots for each sitting. Beside them is the ratio to the baseline on a scale that all charts share: above 1 is better, whichever way the figure counts${ratios.isCut ? ', and an arrow at the edge points to what lies beyond it' : ''}.</p><div class="tools" id="tools" hidden></div><p id="shown" role="status" class="quiet"></p>${report.metrics.map((metric, at) => chart(shared, metric, at))}${remarkTexts(report)}`,
  };
}

/** What the short remarks below the verdicts mean. */
function remarkTexts({ comparisons: [{ rows }] }: Report): Markup | null {
  const flags = new Set(rows.flatMap((row) => row.flags));
  if (flags.size === 0) return null;
  const texts = [...flags]
    .toSorted()
    .map((flag) => html`<dt><b>${flag}</b></dt><dd>${comparisonFlagTexts[flag]}</dd>`);
  return html`<details><summary>What the remarks below the verdicts say</summary><dl class="remark-texts">${texts}</dl></details>`;
}

function chart(shared: Shared, metric: ReportMetric, at: number): Markup {
  const { report, ratios } = shared;
  const scale = metricScale(metric);
  const bounds = metric.rigs.flatMap(({ mean, high, runs }) => [
    mean,
    ...(high === null ? [] : [high]),
    ...runs.map(({ value }) => value),
  ]);
  const strip = zeroScale(bounds, scale.factor);
  const sorted = sortedRigs(shared, metric);
  const name = `${metric.workloadTitle}: ${metric.metric}`;
  const unit = scale.symbol === '' ? 'a pure number' : scale.symbol;
  const [{ confidence }] = report.comparisons;
  return html`<figure class="chart" data-name="${metric.workload}-${metric.metric}" data-metric="${at}"><div class="scroll" tabindex="0" role="region" aria-label="${name}"><table class="strips"><caption><strong>${metric.workloadTitle}</strong>, ${metric.metric}, ${unit}<span class="quiet"> (${metric.workload}${metric.isInIndex ? ', in the index' : ''})</span></caption><thead><tr><th scope="col">rig</th><th scope="col" class="figure-cell"><span class="direction">${directionTexts[metric.better]}</span>${stripAxis(strip)}</th><th scope="col" class="number">mean, ${Math.round(confidence * 1000) / 10} % interval</th><th scope="col" class="ratio-cell"><span class="direction">higher is better →</span>${stripAxis(ratios)}</th><th scope="col" class="number">ratio</th><th scope="col">verdict</th></tr></thead><tbody>${sorted.map((figures) => row(shared, metric, figures, { strip, scale }))}</tbody></table></div></figure>`;
}

/** Best first; those that could not be compared last. */
function sortedRigs({ report, find }: Shared, metric: ReportMetric): readonly RigFigures[] {
  const baseline = report.rigs[0]?.label;
  const ratioOf = ({ rig }: RigFigures): number =>
    rig === baseline ? 1 : (find(metric, rig)?.ratio ?? 0);
  return metric.rigs.toSorted((a, b) => ratioOf(b) - ratioOf(a));
}

function row(
  { report, find, ratios }: Shared,
  metric: ReportMetric,
  figures: RigFigures,
  { strip, scale }: { readonly strip: StripScale; readonly scale: Scale },
): Markup {
  const place = report.rigs.findIndex(({ label }) => label === figures.rig);
  const isBaseline = place === 0;
  const found = isBaseline ? undefined : find(metric, figures.rig);
  const values = found ?? { ratio: isBaseline ? 1 : null, low: null, high: null };
  const text = figureText(figures, scale);
  const sittings = report.rigs[place]?.sittings ?? [];
  const remarks = [
    ...(found === undefined ? [] : [needsText(found) ?? '', ...found.flags]),
    figures.basis === 'repeats-only' ? 'interval of one sitting' : '',
  ].filter((remark) => remark !== '');
  const label = `${figures.rig}: ${text.mean} ${scale.symbol}, ${runsText(figures)}`;
  return html`<tr data-rig="${place}" data-ratio="${values.ratio ?? ''}" data-value="${figures.mean}"${isBaseline ? html` class="baseline"` : null}><th scope="row" class="rig">${figures.rig}${isBaseline ? html` <span class="tag">baseline</span>` : null}</th><td class="figure-cell"><div class="strip" role="img" aria-label="${label}">${figureStrip(figures, sittings, strip)}</div></td><td class="number value-text"><b>${text.mean}</b> ${scale.symbol}${text.interval === null ? html`<br><span class="quiet">no interval</span>` : html`<br><span class="quiet">${text.interval}</span>`}</td><td class="ratio-cell">${ratioStrip(values, ratios)}</td><td class="number ratio-value"><span class="ratio-text">${isBaseline ? '1' : ratioText(values)}</span><br><span class="quiet interval-text">${isBaseline ? '' : intervalText(values)}</span></td><td class="verdict-cell"><span class="verdict-text">${verdictMark(found, isBaseline)}</span>${remarks.length === 0 ? null : html`<span class="quiet remarks">${remarks.join(', ')}</span>`}</td></tr>`;
}

function runsText({ runs }: RigFigures): string {
  const sittings = new Set(runs.map(({ sitting }) => sitting)).size;
  const excluded = runs.filter((run) => run.excluded !== null).length;
  const out = excluded === 0 ? '' : `, ${excluded} of them excluded`;
  return `${runs.length} ${runs.length === 1 ? 'run' : 'runs'} in ${sittings} ${sittings === 1 ? 'sitting' : 'sittings'}${out}`;
}
