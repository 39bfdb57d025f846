import cdfOfT from '@stdlib/stats-base-dists-t-cdf';
import quantileOfT from '@stdlib/stats-base-dists-t-quantile';

/**
 * Quantile of Student's t for `p` in 0 to 1 and degrees of freedom above 0, whole or not; NaN outside.
 * From @stdlib; checked against NIST TN 1297 table B.1.
 */
export function tQuantile(p: number, degreesOfFreedom: number): number {
  return quantileOfT(p, degreesOfFreedom);
}

/**
 * Probability that Student's t lies above `t`; right to its own last digits also far out, where one minus the
 * distribution function would be zero. From @stdlib.
 */
export function tUpperTail(t: number, degreesOfFreedom: number): number {
  return cdfOfT(-t, degreesOfFreedom);
}
