import { err, ok, type Result } from '../lib/result.ts';
import { checkValues, type StatsFailure } from './failure.ts';

/**
 * Quantile by linear interpolation between order statistics, position 1 + (n − 1)p: type 7 of Hyndman & Fan
 * (Am. Stat. 50(4), 1996), the default of R and of spreadsheets. At least one finite value; 0 ≤ p ≤ 1.
 */
export function quantile(values: readonly number[], p: number): Result<number, StatsFailure> {
  const fault = checkValues('a quantile', values, 1);
  if (fault !== null) return err(fault);
  if (!(p >= 0 && p <= 1)) {
    return err({
      code: 'out-of-range',
      message: `a quantile needs a probability from 0 to 1, got ${p}`,
    });
  }
  const sorted = [...values].sort((a, b) => a - b);
  const position = (sorted.length - 1) * p;
  const below = Math.floor(position);
  const low = sorted[below] ?? Number.NaN;
  const high = sorted[Math.min(below + 1, sorted.length - 1)] ?? Number.NaN;
  return ok(low + (position - below) * (high - low));
}

/** The middle value, or the mean of the two middle ones. */
export function median(values: readonly number[]): Result<number, StatsFailure> {
  return quantile(values, 0.5);
}
