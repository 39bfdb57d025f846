import { err, ok, type Result } from '../lib/result.ts';
import { checkValues, type StatsFailure } from './failure.ts';
import { normalCdf } from './normal.ts';
import { rankSumDistribution } from './rank-sum-distribution.ts';
import { rankValues, tieCubes } from './ranks.ts';

export interface MannWhitney {
  /** Pairs in which the first side's value is the larger, ties counted half. */
  readonly u: number;
  /** Two-sided. */
  readonly p: number;
  /** Share of pairs in which the first side's value is the larger: u/(n·m). */
  readonly superiority: number;
  /** `exact`: all ways to share out the ranks counted. `normal`: approximation, corrected for ties and continuity. */
  readonly method: 'exact' | 'normal';
}

/** Sides of this size or more are left to the normal approximation, which is then good to three digits. As R does it. */
const exactBelow = 50;

/**
 * Mann and Whitney's test (Ann. Math. Stat. 18(1), 1947) that neither side tends to larger values. Assumes independent
 * values; it answers for medians only where both sides have one shape. `auto`: exact without ties and below 50 values a
 * side, else the normal approximation (NIST/SEMATECH e-Handbook 7.3.5), and the result says which. `exact` may be asked for with
 * ties: then it is the permutation distribution given those ties. At least one value a side; p cannot fall below 5 % before 3 v 5
 * or 4 v 4. `no-spread` where all values are equal.
 */
export function mannWhitney(
  first: readonly number[],
  second: readonly number[],
  method: 'auto' | 'exact' | 'normal' = 'auto',
): Result<MannWhitney, StatsFailure> {
  const what = "Mann and Whitney's test";
  const fault = checkValues(what, first, 1) ?? checkValues(what, second, 1);
  if (fault !== null) return err(fault);
  const { ranks, ties } = rankValues([...first, ...second]);
  if (ties[0] === ranks.length) {
    return err({ code: 'no-spread', message: `${what} needs values that differ, got equal ones` });
  }
  const [n, m] = [first.length, second.length];
  const fits = n < exactBelow && m < exactBelow;
  if (method === 'exact' && !fits) {
    return err({
      code: 'out-of-range',
      message: `an exact rank test takes fewer than ${exactBelow} values a side, got ${n} and ${m}`,
    });
  }
  const u = ranks.slice(0, n).reduce((total, rank) => total + rank, 0) - (n * (n + 1)) / 2;
  const exact = method === 'exact' || (method === 'auto' && fits && ties.length === 0);
  const p = exact ? exactP(ranks, n) : normalP(u, n, m, ties);
  return ok({ u, p, superiority: u / (n * m), method: exact ? 'exact' : 'normal' });
}

/** Share of all ways to draw the first side's ranks whose sum lies at least as far from the middle as the one found. */
function exactP(ranks: readonly number[], count: number): number {
  // Doubled, mid-ranks are whole.
  const scores = ranks.map((rank) => 2 * rank - 2);
  const found = scores.slice(0, count).reduce((total, score) => total + score, 0);
  const middle = (scores.reduce((total, score) => total + score, 0) * count) / scores.length;
  const away = Math.abs(found - middle) - 1e-9;
  const chances = rankSumDistribution(scores, count);
  const p = chances.reduce((sum, way, at) => (Math.abs(at - middle) >= away ? sum + way : sum), 0);
  return Math.min(1, p);
}

function normalP(u: number, n: number, m: number, ties: readonly number[]): number {
  const all = n + m;
  const variance = ((n * m) / 12) * (all + 1 - tieCubes(ties) / (all * (all - 1)));
  const away = Math.max(0, Math.abs(u - (n * m) / 2) - 0.5);
  return 2 * normalCdf(-away / Math.sqrt(variance));
}
