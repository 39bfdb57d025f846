import { err, ok, type Result } from '../lib/result.ts';
import { checkValues, type StatsFailure } from './failure.ts';

export interface CusumOptions {
  readonly target: number;
  /** Half the shift that is looked for, in the unit of the values: so much of each deviation is not counted. */
  readonly slack: number;
}

/** One for each value, 0 or above. */
export interface Cusum {
  /** Sums of what lies above target + slack. */
  readonly upper: readonly number[];
  /** Sums of what lies below target − slack. */
  readonly lower: readonly number[];
}

/**
 * Tabular cumulative sums, both begun at 0: S⁺ = max(0, S⁺ + x − target − slack), S⁻ = max(0, S⁻ + target − slack − x)
 * (NIST/SEMATECH e-Handbook 6.3.2.3). A sum above a chosen h is a signal; the shift began after its last 0. At least 1 value.
 */
export function cusum(
  values: readonly number[],
  { target, slack }: CusumOptions,
): Result<Cusum, StatsFailure> {
  const fault = checkValues('a cumulative sum', values, 1);
  if (fault !== null) return err(fault);
  const upper: number[] = [];
  const lower: number[] = [];
  for (const [at, value] of values.entries()) {
    upper.push(Math.max(0, (upper[at - 1] ?? 0) + value - target - slack));
    lower.push(Math.max(0, (lower[at - 1] ?? 0) + target - slack - value));
  }
  return ok({ upper, lower });
}
