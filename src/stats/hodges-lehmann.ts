import { err, ok, type Result } from '../lib/result.ts';
import { checkLevel, checkValues, type StatsFailure } from './failure.ts';
import type { RankInterval } from './median-interval.ts';
import { quantileOfSorted } from './quantile.ts';
import { rankSumDistribution } from './rank-sum-distribution.ts';

/** Fewer values a side give no interval here: rule for every nonparametric interval. */
const leastValues = 6;
/** More values a side would make the exact distribution slow. */
const mostValues = 49;
/** More pairs than memory is worth. */
const mostPairs = 4_000_000;

/**
 * How much larger the first side tends to be: the median of all differences between a first and a second value (J. L. Hodges,
 * E. L. Lehmann, Ann. Math. Stat. 34(2), 1963). Of logarithms it is the log of a ratio. At least one value a side,
 * at most 4 million pairs.
 */
export function hodgesLehmann(
  first: readonly number[],
  second: readonly number[],
): Result<number, StatsFailure> {
  const fault = checkSides(first, second, 1);
  if (fault !== null) return err(fault);
  return ok(quantileOfSorted(differences(first, second), 0.5));
}

/**
 * Exact confidence interval of that shift: the differences at the ranks that the distribution of Mann and Whitney's U
 * gives (Hollander & Wolfe, Nonparametric Statistical Methods, 4.3). Assumes independent values and one shape on both sides;
 * with ties it is on the safe side. From `least` values a side (six, unless the caller knows better) to 49, and as many as the
 * level needs.
 */
export function hodgesLehmannInterval(
  first: readonly number[],
  second: readonly number[],
  { confidence = 0.95, least = leastValues }: { confidence?: number; least?: number } = {},
): Result<RankInterval, StatsFailure> {
  const fault = checkLevel('a confidence level', confidence) ?? checkSides(first, second, least);
  if (fault !== null) return err(fault);
  const [n, m] = [first.length, second.length];
  if (Math.max(n, m) > mostValues) {
    return err({
      code: 'out-of-range',
      message: `an exact interval of a shift takes up to ${mostValues} values a side, got ${n} and ${m}`,
    });
  }
  const { rank, below } = highestRank(n, m, (1 - confidence) / 2);
  if (rank === 0) {
    return err({
      code: 'too-few-values',
      message: `an exact interval at level ${confidence} needs more values than ${n} and ${m}`,
    });
  }
  const sorted = differences(first, second);
  return ok({
    low: sorted[rank - 1] ?? Number.NaN,
    high: sorted[n * m - rank] ?? Number.NaN,
    confidence: 1 - 2 * below,
    ranks: [rank, n * m + 1 - rank],
  });
}

/** The highest rank r with P(U < r) ≤ `tail`, and that probability; 0 where even rank 1 is too likely. */
function highestRank(n: number, m: number, tail: number): { rank: number; below: number } {
  const scores = Array.from({ length: n + m }, (_, at) => at);
  const chances = rankSumDistribution(scores, n);
  // The smallest sum of n scores from zero stands for U = 0.
  const start = (n * (n - 1)) / 2;
  let [rank, below] = [0, 0];
  for (;;) {
    const next = below + (chances[start + rank] ?? 1);
    if (next > tail * (1 + 1e-12)) return { rank, below };
    below = next;
    rank += 1;
  }
}

function differences(first: readonly number[], second: readonly number[]): Float64Array {
  const found = new Float64Array(first.length * second.length);
  for (const [at, value] of first.entries()) {
    found.set(
      second.map((other) => value - other),
      at * second.length,
    );
  }
  return found.sort();
}

function checkSides(
  first: readonly number[],
  second: readonly number[],
  least: number,
): StatsFailure | null {
  const what = 'a shift between two sides';
  const fault = checkValues(what, first, least) ?? checkValues(what, second, least);
  if (fault !== null || first.length * second.length <= mostPairs) return fault;
  return {
    code: 'out-of-range',
    message: `${what} takes up to ${mostPairs} pairs of values, got ${first.length} x ${second.length}`,
  };
}
