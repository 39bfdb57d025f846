import { err, ok, type Result } from '../lib/result.ts';
import { checkValues, type StatsFailure } from './failure.ts';

export interface PeltOptions {
  /** Of single values around their level; above 0. */
  readonly sigma: number;
  /** What each change has to save, in squared standard deviations. Default 2 · ln n, the Schwarz criterion of one level and one place more. */
  readonly penalty?: number;
  /** Fewest values between two changes. Default 1. */
  readonly least?: number;
}

/**
 * Changes of the mean of normal values: numbers of values before each, rising, so that the sum of squares around the levels
 * plus a penalty for each change is the least possible. PELT: R. Killick, P. Fearnhead, I. A. Eckley, J. Am. Stat. Assoc.
 * 107, 2012. Exact; time grows with the number of values where changes are frequent, else with its square.
 * Assumes independent values of equal spread. At least one value.
 */
export function pelt(
  values: readonly number[],
  { sigma, penalty = 2 * Math.log(values.length), least = 1 }: PeltOptions,
): Result<readonly number[], StatsFailure> {
  const fault = checkValues('a search for changes', values, 1);
  if (fault !== null) return err(fault);
  if (!(sigma > 0 && Number.isFinite(sigma)))
    return err({ code: 'no-spread', message: `a search for changes needs a spread, got ${sigma}` });
  const cost = segmentCosts(values, sigma);
  const best = [-penalty];
  const before = [0];
  let open: { readonly from: number; deadAt: number }[] = [];
  for (let end = 1; end <= values.length; end += 1) {
    const from = end - least;
    if (from >= 0) open.push({ from, deadAt: Number.POSITIVE_INFINITY });
    open = open.filter(({ deadAt }) => end < deadAt);
    let [lowest, place] = [Number.POSITIVE_INFINITY, 0];
    for (const own of open) {
      const whole = (best[own.from] ?? Number.POSITIVE_INFINITY) + cost(own.from, end);
      if (whole + penalty < lowest) [lowest, place] = [whole + penalty, own.from];
    }
    best.push(lowest);
    before.push(place);
    // What is not cheaper now is never again, once a change here leaves the segment after it long enough.
    for (const own of open)
      if ((best[own.from] ?? 0) + cost(own.from, end) >= lowest)
        own.deadAt = Math.min(own.deadAt, end + least);
  }
  return ok(changesOf(before));
}

/** Sum of squares around the mean of values from..end − 1, in squared standard deviations; values are centred first, so that nothing is lost by the difference. */
function segmentCosts(
  values: readonly number[],
  sigma: number,
): (from: number, end: number) => number {
  const center = values.reduce((sum, value) => sum + value, 0) / values.length;
  const sums = [0];
  const squares = [0];
  for (const [at, value] of values.entries()) {
    const own = (value - center) / sigma;
    sums.push((sums[at] ?? 0) + own);
    squares.push((squares[at] ?? 0) + own * own);
  }
  return (from, end) => {
    const sum = (sums[end] ?? 0) - (sums[from] ?? 0);
    return (squares[end] ?? 0) - (squares[from] ?? 0) - (sum * sum) / (end - from);
  };
}

function changesOf(before: readonly number[]): readonly number[] {
  const changes: number[] = [];
  for (let at = before.at(-1) ?? 0; at > 0; at = before[at] ?? 0) changes.unshift(at);
  return changes;
}
