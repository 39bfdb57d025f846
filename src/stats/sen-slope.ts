import { err, ok, type Result } from '../lib/result.ts';
import { checkLevel, checkValues, type StatsFailure } from './failure.ts';
import { mannKendall } from './mann-kendall.ts';
import type { Interval } from './mean-interval.ts';
import { normalQuantile } from './normal.ts';
import { quantileOfSorted } from './quantile.ts';

export interface SenSlope {
  /** Change a step from each value to the next. */
  readonly slope: number;
  /** Null below 10 values, where the normal approximation it stands on does not hold. */
  readonly interval: Interval | null;
}

/** From here on the normal approximation of S gives the interval's ranks (Gilbert 1987, 16.5). */
const leastForInterval = 10;

/**
 * Slope of a trend as the median of the slopes of all pairs (P. K. Sen, J. Am. Stat. Assoc. 63, 1968), evenly spaced in
 * time; the interval by ranks from the variance of Mann and Kendall's S. Assumes independence but for the trend. At
 * least 3 values; equal ones have slope 0 and no interval.
 */
export function senSlope(
  values: readonly number[],
  confidence = 0.95,
): Result<SenSlope, StatsFailure> {
  const fault =
    checkLevel('a confidence level', confidence) ?? checkValues("Sen's slope", values, 3);
  if (fault !== null) return err(fault);
  const slopes = values
    .flatMap((later, at) =>
      values.slice(0, at).map((earlier, before) => (later - earlier) / (at - before)),
    )
    .sort((a, b) => a - b);
  const slope = quantileOfSorted(slopes, 0.5);
  const trend = mannKendall(values);
  if (values.length < leastForInterval || !trend.ok) return ok({ slope, interval: null });
  const reach = normalQuantile((1 + confidence) / 2) * Math.sqrt(trend.value.variance);
  const [below, above] = [(slopes.length - reach) / 2, (slopes.length + reach) / 2];
  return ok({
    slope,
    interval: {
      low: slopes[Math.max(0, Math.round(below) - 1)] ?? Number.NaN,
      high: slopes[Math.min(slopes.length - 1, Math.round(above))] ?? Number.NaN,
    },
  });
}
