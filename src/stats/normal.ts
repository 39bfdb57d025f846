import cdfOfNormal from '@stdlib/stats-base-dists-normal-cdf';
import quantileOfNormal from '@stdlib/stats-base-dists-normal-quantile';

/** Distribution function of the standard normal; exact in the lower tail, so ask for an upper tail by `normalCdf(-z)`. */
export function normalCdf(z: number): number {
  return cdfOfNormal(z, 0, 1);
}

/** Quantile of the standard normal for `p` in 0 to 1: to 1e-14 for p above 1e-4, to 1e-8 as far out as 1e-10. */
export function normalQuantile(p: number): number {
  return quantileOfNormal(p, 0, 1);
}
