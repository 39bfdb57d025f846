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
