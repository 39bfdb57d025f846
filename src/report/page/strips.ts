import type { ReportRun, RigFigures } from '../../model/report.ts';
import { html, type Markup } from './html.ts';
import type { RatioScale, StripScale } from './scale.ts';

const height = 34;

/**
 * Bar from zero to the mean, the interval of the mean across its end, every single run as a dot, a line of dots for each sitting from
 * above; excluded runs are hollow.
 */
export function figureStrip(
  figures: RigFigures,
  sittings: readonly string[],
  { place }: StripScale,
): Markup {
  const { mean, low, high, runs } = figures;
  const [zero, end] = [place(0), place(mean)];
  const [left, width] = [Math.min(zero, end), Math.abs(end - zero)];
  return html`<svg class="strip-plot" height="${height}" aria-hidden="true" focusable="false"><rect class="bar" x="${pct(left)}" width="${pct(width)}" y="5" height="24"/><line class="mean" x1="${pct(end)}" x2="${pct(end)}" y1="3" y2="31"/>${
    low === null || high === null
      ? null
      : html`<line class="interval" x1="${pct(place(low))}" x2="${pct(place(high))}" y1="17" y2="17"/><line class="interval" x1="${pct(place(low))}" x2="${pct(place(low))}" y1="12" y2="22"/><line class="interval" x1="${pct(place(high))}" x2="${pct(place(high))}" y1="12" y2="22"/>`
  }<g class="runs">${runs.map((run) => dot(run, sittings, place))}</g></svg>`;
}

function dot(
  { sitting, value, excluded }: ReportRun,
  sittings: readonly string[],
  place: StripScale['place'],
): Markup {
  const lines = Math.max(1, sittings.length);
  const y = 7 + (20 * (Math.max(0, sittings.indexOf(sitting)) + 0.5)) / lines;
  return excluded === null
    ? html`<circle cx="${pct(place(value))}" cy="${y.toFixed(1)}"/>`
    : html`<circle class="out" cx="${pct(place(value))}" cy="${y.toFixed(1)}"/>`;
}

/** Ratio and interval on the axis that all rows share; the band is what does not matter. */
export function ratioStrip(
  {
    ratio,
    low,
    high,
  }: { readonly ratio: number | null; readonly low: number | null; readonly high: number | null },
  { place }: RatioScale,
  matters: number,
): Markup {
  const [from, to] = [place(1 / (1 + matters)), place(1 + matters)];
  const [left, right] = [place(low ?? ratio ?? 1), place(high ?? ratio ?? 1)];
  return html`<svg class="ratio-plot" height="${height}" aria-hidden="true" focusable="false"><rect class="band" x="${pct(from)}" width="${pct(to - from)}" y="0" height="${height}"/><line class="one" x1="50%" x2="50%" y1="0" y2="${height}"/><g class="${ratio === null ? 'value none' : 'value'}"><line class="interval" x1="${pct(left)}" x2="${pct(right)}" y1="17" y2="17"/><circle cx="${pct(place(ratio ?? 1))}" cy="17"/></g></svg>`;
}

/** What stands above a column of strips. */
export function stripAxis({ ticks }: StripScale): Markup {
  return html`<svg class="axis" height="18" aria-hidden="true" focusable="false">${ticks.map(
    ({ at, text }) =>
      html`<text x="${pct(at)}" y="13" text-anchor="${at < 4 ? 'start' : at > 96 ? 'end' : 'middle'}">${text}</text><line x1="${pct(at)}" x2="${pct(at)}" y1="15" y2="18"/>`,
  )}</svg>`;
}

function pct(value: number): string {
  return `${Number(value.toFixed(2))}%`;
}
