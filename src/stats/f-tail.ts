import cdfOfF from '@stdlib/stats-base-dists-f-cdf';

/**
 * Probability that F with `df1` over `df2` degrees of freedom lies above `f` ≥ 0; exact far out too, since it is the lower
 * tail of 1/F. From @stdlib.
 */
export function fUpperTail(f: number, df1: number, df2: number): number {
  return f === 0 ? 1 : cdfOfF(1 / f, df2, df1);
}
