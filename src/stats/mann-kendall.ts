import { err, ok, type Result } from '../lib/result.ts';
import { checkValues, type StatsFailure } from './failure.ts';
import { normalCdf } from './normal.ts';
import { rankValues } from './ranks.ts';

export interface MannKendall {
  /** Pairs that rise less pairs that fall. */
  readonly s: number;
  /** Variance of S without a trend, corrected for ties. */
  readonly variance: number;
  /** S over its largest size, with ties taken out (Kendall's tau b): −1 to 1. */
  readonly tau: number;
  /** Two-sided, of no trend. */
  readonly p: number;
  /** `exact`: all orders counted. `normal`: approximation, corrected for ties and continuity. */
  readonly method: 'exact' | 'normal';
}

/** Up to here, without ties, all orders are counted: the approximation needs more (Gilbert 1987, 16.4). */
const exactUpTo = 10;

/**
 * Test for a rising or falling trend (H. B. Mann, Econometrica 13, 1945; R. O. Gilbert, Statistical Methods for
 * Environmental Pollution Monitoring, 1987, 16.4). Assumes values in the order of time that are independent but for the trend:
 * serial correlation alone can make p small (see `autocorrelation`). Exact up to 10 values without ties. At least 3 values, but
 * from 3 or 4 p cannot fall below 5 %. `no-spread` where all are equal.
 */
export function mannKendall(values: readonly number[]): Result<MannKendall, StatsFailure> {
  const what = "Mann and Kendall's test";
  const fault = checkValues(what, values, 3);
  if (fault !== null) return err(fault);
  const { ties } = rankValues(values);
  const count = values.length;
  if (ties[0] === count) {
    return err({ code: 'no-spread', message: `${what} needs values that differ, got equal ones` });
  }
  const s = risesLessFalls(values);
  const variance = (spreadTerm(count) - ties.reduce((sum, t) => sum + spreadTerm(t), 0)) / 18;
  const pairs = (count * (count - 1)) / 2;
  const tied = ties.reduce((sum, t) => sum + (t * (t - 1)) / 2, 0);
  const exact = count <= exactUpTo && ties.length === 0;
  const away = Math.max(0, Math.abs(s) - 1);
  return ok({
    s,
    variance,
    tau: s / Math.sqrt(pairs * (pairs - tied)),
    p: exact ? exactP(count, Math.abs(s)) : 2 * normalCdf(-away / Math.sqrt(variance)),
    method: exact ? 'exact' : 'normal',
  });
}

function risesLessFalls(values: readonly number[]): number {
  let s = 0;
  for (let at = 1; at < values.length; at += 1) {
    const later = values[at] ?? 0;
    for (let before = 0; before < at; before += 1) s += Math.sign(later - (values[before] ?? 0));
  }
  return s;
}

function spreadTerm(count: number): number {
  return count * (count - 1) * (2 * count + 5);
}

/** Share of all orders of `count` values whose |S| is at least `size`. */
function exactP(count: number, size: number): number {
  const chances = fallChances(count);
  const pairs = chances.length - 1;
  return Math.min(
    1,
    chances.reduce(
      (sum, chance, falls) => (Math.abs(pairs - 2 * falls) >= size ? sum + chance : sum),
      0,
    ),
  );
}

/** By number of values: few are ever asked for, and thousands of times. */
const knownChances = new Map<number, readonly number[]>();

/** Chance of each number of falling pairs among `count` values in random order, by counting inversions. */
function fallChances(count: number): readonly number[] {
  const known = knownChances.get(count);
  if (known !== undefined) return known;
  // chances[i]: of i falling pairs among the first `length` values; a new value falls behind 0 to length − 1 of them.
  let chances = [1];
  for (let length = 2; length <= count; length += 1) {
    const next = new Array<number>((length * (length - 1)) / 2 + 1).fill(0);
    for (const [falls, chance] of chances.entries()) {
      for (let more = 0; more < length; more += 1) {
        next[falls + more] = (next[falls + more] ?? 0) + chance / length;
      }
    }
    chances = next;
  }
  knownChances.set(count, chances);
  return chances;
}
