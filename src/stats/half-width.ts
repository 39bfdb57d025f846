import { err, ok, type Result } from '../lib/result.ts';
import type { Metric } from '../model/suite.ts';
import { natureOf } from '../model/unit.ts';
import type { StatsFailure } from './failure.ts';
import { harmonicMeanInterval, meanInterval } from './mean-interval.ts';

/** Half the 95 % interval of the mean, as a fraction of its middle: what adaptive repeats wait for. At least two values. */
export function relativeHalfWidth(
  values: readonly number[],
  metric: Pick<Metric, 'unit' | 'better'>,
): Result<number, StatsFailure> {
  const rate = natureOf(metric.unit, metric.better) === 'rate';
  const interval = rate ? harmonicMeanInterval(values) : meanInterval(values);
  if (!interval.ok) return interval;
  const { low, high } = interval.value;
  const middle = (low + high) / 2;
  if (middle === 0)
    return err({ code: 'mean-is-zero', message: 'a relative width needs a mean other than zero' });
  return ok((high - low) / 2 / Math.abs(middle));
}
