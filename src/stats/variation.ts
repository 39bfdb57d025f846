import { err, ok, type Result } from '../lib/result.ts';
import type { StatsFailure } from './failure.ts';
import { mean } from './mean.ts';
import { standardDeviation } from './standard-deviation.ts';

/** Coefficient of variation: standard deviation over the size of the arithmetic mean, a fraction. At least two values. */
export function variation(values: readonly number[]): Result<number, StatsFailure> {
  const spread = standardDeviation(values);
  if (!spread.ok) return spread;
  const centre = mean(values);
  if (!centre.ok) return centre;
  if (centre.value === 0) {
    return err({
      code: 'mean-is-zero',
      message: 'a coefficient of variation needs a mean other than zero',
    });
  }
  return ok(spread.value / Math.abs(centre.value));
}
