import { err, ok, type Result } from '../lib/result.ts';
import type { MetricNature } from '../model/unit.ts';
import { checkPositive, type StatsFailure } from './failure.ts';
import { harmonicMean } from './harmonic-mean.ts';
import { mean } from './mean.ts';

/**
 * Log of each sitting's mean, one a sitting in the order given: the values that sittings are compared by, since the repeats of
 * one sitting are not independent. Rates by the harmonic mean, all else by the arithmetic. At least one sitting, none empty, all
 * values above zero.
 */
export function logSittingMeans(
  sittings: readonly (readonly number[])[],
  nature: MetricNature,
): Result<readonly number[], StatsFailure> {
  if (sittings.length === 0) {
    return err({ code: 'too-few-values', message: 'a comparison needs at least 1 sitting, got 0' });
  }
  const logs: number[] = [];
  for (const repeats of sittings) {
    const fault = checkPositive('the mean of a sitting', repeats, 1);
    if (fault !== null) return err(fault);
    const centre = nature === 'rate' ? harmonicMean(repeats) : mean(repeats);
    if (!centre.ok) return centre;
    logs.push(Math.log(centre.value));
  }
  return ok(logs);
}
