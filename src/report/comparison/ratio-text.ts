import { uncertaintyDecimals } from '../../lib/uncertainty-decimals.ts';

interface Interval {
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/**
 * How far an interval reaches from the ratio, on its shorter side: intervals of ratios are longer upwards. Null where there is
 * none.
 */
export function reachOf({ ratio, low, high }: Interval): number | null {
  return ratio === null || low === null || high === null
    ? null
    : Math.min(ratio - low, high - ratio);
}

/** Two decimals at least, and without an interval just these, since nothing tells how many mean anything. */
function ratioDecimals(row: Interval): number {
  return Math.max(2, uncertaintyDecimals(reachOf(row)) ?? 2);
}

export function ratioText(row: Interval): string {
  return row.ratio === null ? '–' : row.ratio.toFixed(ratioDecimals(row));
}

/** `1.031 … 1.108`, with the decimals of the ratio. */
export function intervalText(row: Interval): string {
  if (row.low === null || row.high === null) return '–';
  const decimals = ratioDecimals(row);
  return `${row.low.toFixed(decimals)} … ${boundText(row.high, decimals)}`;
}

/** A bound that is far away has no use for decimals, and no room. */
function boundText(high: number, decimals: number): string {
  if (high >= 1000) return '>1000';
  return high.toFixed(high >= 100 ? 0 : decimals);
}

/** Two significant digits; `<0.001` below that. */
export function pText(p: number | null): string {
  if (p === null) return '–';
  if (p < 0.001) return '<0.001';
  return p > 0.99 ? '>0.99' : p.toPrecision(2);
}

/** How far from 1, in words: `4.3 % better`. The decimals follow the uncertainty as those of the ratio do. */
export function effectText(row: Interval & { readonly ratio: number }): string {
  const decimals = Math.max(0, (uncertaintyDecimals(reachOf(row)) ?? 3) - 2);
  const percent = (Math.abs(row.ratio - 1) * 100).toFixed(decimals);
  if (Number(percent) === 0) return 'level';
  return `${percent} % ${row.ratio > 1 ? 'better' : 'worse'}`;
}
