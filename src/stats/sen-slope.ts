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

/** Longer series have more pairs than memory is worth. */
const mostValues = 3000;

/**
 * Slope of a trend as the median of the slopes of all pairs (P. K. Sen, J. Am. Stat. Assoc. 63, 1968), evenly spaced in
 * time; the interval by ranks from the variance of Mann and Kendall's S. Assumes independence but for the trend. At
 * least 3 values, at most 3,000; equal ones have slope 0 and no interval.
 */
export function senSlope(
  values: readonly number[],
  confidence = 0.95,
): Result<SenSlope, StatsFailure> {
  const fault =
    checkLevel('a confidence level', confidence) ?? checkValues("Sen's slope", values, 3);
  if (fault !== null) return err(fault);
  if (values.length > mostValues) {
    return err({
      code: 'out-of-range',
      message: `Sen's slope takes up to ${mostValues} values, got ${values.length}`,
    });
  }
  const slopes = slopesOf(values);
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

function slopesOf(values: readonly number[]): Float64Array {
  const slopes = new Float64Array((values.length * (values.length - 1)) / 2);
  let next = 0;
  for (const [at, later] of values.entries()) {
    for (let before = 0; before < at; before += 1) {
      slopes[next] = (later - (values[before] ?? Number.NaN)) / (at - before);
      next += 1;
    }
  }
  return slopes.sort();
}
