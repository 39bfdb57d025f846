import { err, ok, type Result } from '../lib/result.ts';
import { checkValues, type StatsFailure } from './failure.ts';

/** The nine rules of Hyndman & Fan, Am. Stat. 50(4), 1996. */
export type QuantileType = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9;

/** Offsets a and b of the interpolating rules: position a + p(n + 1 − a − b) among the ordered values, counted from one. */
const offsets = {
  4: [0, 1],
  5: [0.5, 0.5],
  6: [0, 0],
  7: [1, 1],
  8: [1 / 3, 1 / 3],
  9: [3 / 8, 3 / 8],
} as const;

/** Positions this near a whole number are that number: p·n seldom comes out whole in binary. As R does it. */
const fuzz = 4 * Number.EPSILON;

/**
 * Quantile by one of the nine types of Hyndman & Fan (Am. Stat. 50(4), 1996). Type 7, linear between order statistics at
 * position 1 + (n − 1)p, is the default of R and of spreadsheets; type 6 that of NIST/SEMATECH e-Handbook 7.2.6.2; type 1
 * the nearest rank. At least one finite value; 0 ≤ p ≤ 1. How far out a quantile means something is for the caller to ask.
 */
export function quantile(
  values: readonly number[],
  p: number,
  type: QuantileType = 7,
): Result<number, StatsFailure> {
  const fault = checkValues('a quantile', values, 1);
  if (fault !== null) return err(fault);
  if (!(p >= 0 && p <= 1)) {
    return err({
      code: 'out-of-range',
      message: `a quantile needs a probability from 0 to 1, got ${p}`,
    });
  }
  const sorted = Float64Array.from(values).sort();
  return ok(quantileOfSorted(sorted, p, type));
}

/** As `quantile`, for finite values that are already in rising order: no copy, no checks. */
export function quantileOfSorted(
  sorted: ArrayLike<number>,
  p: number,
  type: QuantileType = 7,
): number {
  const { rank, share } =
    type <= 3 ? stepPosition(sorted.length, p, type) : linePosition(sorted.length, p, type);
  const last = sorted.length - 1;
  const low = sorted[Math.min(Math.max(rank - 1, 0), last)] ?? Number.NaN;
  const high = sorted[Math.min(Math.max(rank, 0), last)] ?? Number.NaN;
  return share === 1 ? high : low + share * (high - low);
}

/** The middle value, or the mean of the two middle ones. */
export function median(values: readonly number[]): Result<number, StatsFailure> {
  return quantile(values, 0.5);
}

/** The smallest value that at least the share `p` of the values do not exceed: rank ceil(p·n), type 1. */
export function nearestRank(values: readonly number[], p: number): Result<number, StatsFailure> {
  return quantile(values, p, 1);
}

interface Position {
  /** Rank from one of the value below; 0 and n + 1 stand for the first and the last. */
  readonly rank: number;
  /** Share of the next value. */
  readonly share: number;
}

function stepPosition(count: number, p: number, type: QuantileType): Position {
  const at = count * p - (type === 3 ? 0.5 : 0);
  const rank = Math.floor(at + fuzz * Math.max(1, at));
  const isWhole = at - rank <= fuzz * Math.max(1, at);
  if (!isWhole) return { rank, share: 1 };
  if (type === 1) return { rank, share: 0 };
  if (type === 2) return { rank, share: 0.5 };
  return { rank, share: rank % 2 === 0 ? 0 : 1 };
}

function linePosition(count: number, p: number, type: QuantileType): Position {
  const [a, b] = offsets[type as keyof typeof offsets];
  const at = a + p * (count + 1 - a - b);
  const rank = Math.floor(at + fuzz * Math.max(1, at));
  const share = at - rank;
  return { rank, share: Math.abs(share) <= fuzz * Math.max(1, at) ? 0 : share };
}
