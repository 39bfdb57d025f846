import { err, ok, type Result } from '../lib/result.ts';
import { checkValues, type StatsFailure, tooLarge } from './failure.ts';
import { mean } from './mean.ts';

export interface IndividualsLimits {
  readonly center: number;
  /** Mean distance of neighbours. */
  readonly meanMovingRange: number;
  /** Standard deviation by the moving ranges: a single shift of the level hardly widens it. */
  readonly sigma: number;
  readonly low: number;
  readonly high: number;
}

/** Mean distance of two normal values in standard deviations, d2 of two: 1.128 in printed tables. */
const meanRangeOfTwo = 2 / Math.sqrt(Math.PI);

/**
 * Limits of a chart of individual values by their moving ranges: centre ± width · R̄ / d2 (NIST/SEMATECH e-Handbook 6.3.2.2).
 * Assumes values in the order of time, independent and near normal while nothing changes. At least 2 values; `no-spread` where
 * all are equal.
 */
export function individualsLimits(
  values: readonly number[],
  width = 3,
): Result<IndividualsLimits, StatsFailure> {
  const what = 'a chart of individual values';
  const fault = checkValues(what, values, 2);
  if (fault !== null) return err(fault);
  const ranges = values.slice(1).map((value, at) => Math.abs(value - (values[at] ?? value)));
  const [center, range] = [mean(values), mean(ranges)];
  if (!center.ok) return center;
  if (!range.ok) return err(tooLarge(what));
  if (range.value === 0)
    return err({ code: 'no-spread', message: `${what} needs values that differ, got equal ones` });
  const sigma = range.value / meanRangeOfTwo;
  return ok({
    center: center.value,
    meanMovingRange: range.value,
    sigma,
    low: center.value - width * sigma,
    high: center.value + width * sigma,
  });
}
