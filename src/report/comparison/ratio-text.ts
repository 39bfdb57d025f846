interface Interval {
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

const mostDecimals = 6;

/**
 * Decimals that keep two significant digits of the uncertainty (GUM, JCGM 100:2008, 7.2.6), here half the width of the
 * interval, and no more; null where there is no interval. 0.038 asks for 3, 1.2 for 1.
 */
export function uncertaintyDecimals(halfWidth: number | null): number | null {
  if (halfWidth === null || !(halfWidth > 0) || !Number.isFinite(halfWidth)) return null;
  // toExponential rounds first: 0.0996 is 1.0e-1 with two digits.
  const exponent = Number(halfWidth.toExponential(1).split('e')[1]);
  return Math.min(mostDecimals, Math.max(0, 1 - exponent));
}

/** Half the width of an interval; null where there is none. */
export function halfWidthOf({ low, high }: Interval): number | null {
  return low === null || high === null ? null : (high - low) / 2;
}

/** Without an interval two decimals, since nothing tells how many mean anything. */
export function ratioText(row: Interval): string {
  if (row.ratio === null) return '–';
  return row.ratio.toFixed(uncertaintyDecimals(halfWidthOf(row)) ?? 2);
}

/** `1.031 … 1.108`, with the decimals of the ratio. */
export function intervalText(row: Interval): string {
  if (row.low === null || row.high === null) return '–';
  const decimals = uncertaintyDecimals(halfWidthOf(row)) ?? mostDecimals;
  return `${row.low.toFixed(decimals)} … ${row.high.toFixed(decimals)}`;
}

/** Two significant digits; `<0.001` below that. */
export function pText(p: number | null): string {
  if (p === null) return '–';
  if (p < 0.001) return '<0.001';
  return p > 0.99 ? '>0.99' : p.toPrecision(2);
}

/** How far from 1, in words: `4.3 % better`. The decimals follow the uncertainty as those of the ratio do. */
export function effectText(row: Interval & { readonly ratio: number }): string {
  const decimals = Math.max(0, (uncertaintyDecimals(halfWidthOf(row)) ?? 3) - 2);
  const percent = (Math.abs(row.ratio - 1) * 100).toFixed(decimals);
  if (Number(percent) === 0) return 'level';
  return `${percent} % ${row.ratio > 1 ? 'better' : 'worse'}`;
}
