import binomialCdf from '@stdlib/stats-base-dists-binomial-cdf';
import { err, ok, type Result } from '../lib/result.ts';
import { checkLevel, checkValues, type StatsFailure } from './failure.ts';
import type { Interval } from './mean-interval.ts';

export interface RankInterval extends Interval {
  /** Level that the interval really has: ranks are whole, so it is at least what was asked for. */
  readonly confidence: number;
  /** Ranks of the two ends among the ordered values, from one. */
  readonly ranks: readonly [number, number];
}

/** Fewer values give no 95 % interval: 1 − 2/2⁵ is 93.75 %. Also asked of lower levels, so that one rule holds everywhere. */
const least = 6;

/**
 * Confidence interval of the median between two order statistics, by the binomial distribution of the number of values
 * below the median (W. J. Conover, Practical Nonparametric Statistics, 3rd ed., 3.2): the narrowest symmetric pair of ranks
 * whose level is at least `confidence`. Assumes independent values of one distribution, nothing about its shape; with ties it
 * is on the safe side. At least six values, and as many more as the level needs (8 for 99 %), else `too-few-values`.
 */
export function medianInterval(
  values: readonly number[],
  confidence = 0.95,
): Result<RankInterval, StatsFailure> {
  const what = 'an interval of the median';
  const fault = checkLevel('a confidence level', confidence) ?? checkValues(what, values, least);
  if (fault !== null) return err(fault);
  const count = values.length;
  const outside = highestRank(count, (1 - confidence) / 2);
  if (outside === 0) {
    const needed = Math.ceil(1 - Math.log2(1 - confidence));
    return err({
      code: 'too-few-values',
      message: `${what} at level ${confidence} needs at least ${needed} values, got ${count}`,
    });
  }
  const sorted = Float64Array.from(values).sort();
  return ok({
    low: sorted[outside - 1] ?? Number.NaN,
    high: sorted[count - outside] ?? Number.NaN,
    confidence: 1 - 2 * binomialCdf(outside - 1, count, 0.5),
    ranks: [outside, count + 1 - outside],
  });
}

/** The highest rank r with P(fewer than r values below the median) ≤ `tail`; 0 where even rank 1 is too likely. */
function highestRank(count: number, tail: number): number {
  let low = 0;
  let high = Math.floor(count / 2);
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (binomialCdf(middle - 1, count, 0.5) <= tail) low = middle;
    else high = middle - 1;
  }
  return low;
}
