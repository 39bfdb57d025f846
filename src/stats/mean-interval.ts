import { err, ok, type Result } from '../lib/result.ts';
import { checkLevel, checkPositive, type StatsFailure } from './failure.ts';
import { mean } from './mean.ts';
import { standardDeviation } from './standard-deviation.ts';
import { tQuantile } from './t-quantile.ts';

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/**
 * Two-sided confidence interval of the arithmetic mean: mean ± t(n − 1) · s/√n (NIST/SEMATECH e-Handbook 1.3.5.2).
 * Assumes independent values, near normal for small n. At least two values: from one there is no interval.
 */
export function meanInterval(
  values: readonly number[],
  confidence = 0.95,
): Result<Interval, StatsFailure> {
  const fault = checkLevel('a confidence level', confidence);
  if (fault !== null) return err(fault);
  const spread = standardDeviation(values);
  if (!spread.ok) return spread;
  const centre = mean(values);
  if (!centre.ok) return centre;
  const t = tQuantile((1 + confidence) / 2, values.length - 1);
  const half = (t * spread.value) / Math.sqrt(values.length);
  return ok({ low: centre.value - half, high: centre.value + half });
}

/**
 * Interval of the harmonic mean: that of the mean time per unit of work, turned over. At least two values, all above
 * zero; fails as `out-of-range` where the times spread so much that the rate has no upper bound.
 */
export function harmonicMeanInterval(
  values: readonly number[],
  confidence = 0.95,
): Result<Interval, StatsFailure> {
  const fault = checkPositive('the interval of a harmonic mean', values, 2);
  if (fault !== null) return err(fault);
  const costs = meanInterval(
    values.map((value) => 1 / value),
    confidence,
  );
  if (!costs.ok) return costs;
  if (costs.value.low <= 0) {
    return err({
      code: 'out-of-range',
      message: 'the values spread so much that the rate has no upper bound',
    });
  }
  return ok({ low: 1 / costs.value.high, high: 1 / costs.value.low });
}

/**
 * Interval of the geometric mean: that of the mean logarithm, raised. Assumes independent values near lognormal. At least
 * two values, all above zero.
 */
export function geometricMeanInterval(
  values: readonly number[],
  confidence = 0.95,
): Result<Interval, StatsFailure> {
  const fault = checkPositive('the interval of a geometric mean', values, 2);
  if (fault !== null) return err(fault);
  const logs = meanInterval(values.map(Math.log), confidence);
  if (!logs.ok) return logs;
  return ok({ low: Math.exp(logs.value.low), high: Math.exp(logs.value.high) });
}
