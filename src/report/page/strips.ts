import type { RigFigures } from '../../model/report.ts';
import { html, type Markup } from './html.ts';
import type { RatioScale, StripScale } from './scale.ts';

// Strips are drawn on a grid that is stretched to the width of their cell; line widths and dots stay as they are (see the style sheet).
const grid = 4000;
const height = 34;
const middle = 17;

interface Ratio {
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/**
 * Bar from zero to the mean, the interval of the mean across its end, every single run as a dot, a line of dots for each sitting from
 * above; excluded runs are hollow.
 */
export function figureStrip(
  figures: RigFigures,
  sittings: readonly string[],
  { place }: StripScale,
): Markup {
  const { mean, low, high } = figures;
  const [zero, end] = [at(place(0)), at(place(mean))];
  const interval = low === null || high === null ? '' : bracket(at(place(low)), at(place(high)));
  const { counting, excluded } = dots(figures, sittings, place);
  return html`<svg class="strip-plot" viewBox="0 0 ${grid} ${height}" preserveAspectRatio="none"><path class="bar" d="M${zero} 5H${end}V29H${zero}z"/><path class="mean" d="M${end} 3V31"/><path class="interval" d="${interval}"/><path class="runs" d="${counting}"/>${excluded === '' ? null : html`<path class="out" d="${excluded}"/><path class="out core" d="${excluded}"/>`}</svg>`;
}

/** A line with a cap at both ends. */
function bracket(from: number, to: number): string {
  return `M${from} ${middle}H${to}M${from} 12v10M${to} 12v10`;
}

/** Lines of no length with round ends, each from the one before: dots that take a few bytes each. */
function dots(
  { runs }: RigFigures,
  sittings: readonly string[],
  place: StripScale['place'],
): { readonly counting: string; readonly excluded: string } {
  const lines = Math.max(1, sittings.length);
  const spots = runs.map(({ sitting, value, excluded }) => ({
    x: at(place(value)),
    y: Math.round(7 + (20 * (Math.max(0, sittings.indexOf(sitting)) + 0.5)) / lines),
    isOut: excluded !== null,
  }));
  return {
    counting: dotPath(spots.filter(({ isOut }) => !isOut)),
    excluded: dotPath(spots.filter(({ isOut }) => isOut)),
  };
}

function dotPath(spots: readonly { readonly x: number; readonly y: number }[]): string {
  let [x, y] = [0, 0];
  return spots
    .map((spot) => {
      const step = `m${spot.x - x} ${spot.y - y}h0`;
      [x, y] = [spot.x, spot.y];
      return step;
    })
    .join('');
}

/**
 * Ratio and interval on the axis that all rows share; what does not matter is a band behind it (see the style sheet). A ratio beyond
 * the axis is an arrow at its edge, and so is the end of an interval: nothing is drawn where it is not. As in `client/baseline.ts`.
 */
export function ratioStrip({ ratio, low, high }: Ratio, { place }: RatioScale): Markup {
  const [left, right] = [at(place(low ?? ratio ?? 1)), at(place(high ?? ratio ?? 1))];
  const middleOfIt = at(place(ratio ?? 1));
  const interval = ratio === null ? '' : `M${left} ${middle}H${right}${arrow(left)}${arrow(right)}`;
  const beyond = arrow(middleOfIt);
  const dot = ratio === null ? '' : beyond || `M${middleOfIt} ${middle}h0`;
  return html`<svg class="ratio-plot" viewBox="0 0 ${grid} ${height}" preserveAspectRatio="none" aria-hidden="true"><path class="interval" d="${interval}"/><path class="${beyond === '' ? 'dot' : 'dot beyond'}" d="${dot}"/></svg>`;
}

/** At the edges of the grid only. */
function arrow(x: number): string {
  if (x <= 0) return 'M140 9L0 17L140 25';
  return x >= grid ? 'M3860 9L4000 17L3860 25' : '';
}

/** What stands above a column of strips. */
export function stripAxis({ ticks }: StripScale): Markup {
  return html`<svg class="axis" height="18" aria-hidden="true">${ticks.map(
    ({ at: percent, text }) =>
      html`<text x="${percent.toFixed(2)}%" y="13" text-anchor="${percent < 4 ? 'start' : percent > 96 ? 'end' : 'middle'}">${text}</text><line x1="${percent.toFixed(2)}%" x2="${percent.toFixed(2)}%" y1="15" y2="18"/>`,
  )}</svg>`;
}

/** Of a place in percent. */
function at(percent: number): number {
  return Math.round((percent / 100) * grid);
}
