import { err, ok, type Result } from '../lib/result.ts';
import { checkValues, type StatsFailure, tooLarge } from './failure.ts';
import { mean } from './mean.ts';
import { sum } from './sum.ts';

/**
 * Sample standard deviation, divisor n − 1. Two passes with the correction of Chan, Golub & LeVeque (Am. Stat. 37(3),
 * 1983): right to the last digits also where the spread is tiny beside the mean (NIST StRD NumAcc4). At least two values.
 */
export function standardDeviation(values: readonly number[]): Result<number, StatsFailure> {
  const fault = checkValues('a standard deviation', values, 2);
  if (fault !== null) return err(fault);
  const centre = mean(values);
  if (!centre.ok) return centre;
  const deviations = values.map((value) => value - centre.value);
  const scale = powerOfTwoNear(deviations);
  const scaled = deviations.map((deviation) => deviation / scale);
  const squares = sum(scaled.map((deviation) => deviation * deviation));
  const correction = sum(scaled) ** 2 / values.length;
  // Equal values: rounding may leave less than nothing.
  const spread = scale * Math.sqrt(Math.max(0, squares - correction) / (values.length - 1));
  return Number.isFinite(spread) ? ok(spread) : err(tooLarge('a standard deviation'));
}

/** A power of two near the largest size: dividing by it changes no digit, and keeps squares from over- and underflow. */
function powerOfTwoNear(values: readonly number[]): number {
  const largest = values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  return largest === 0 ? 1 : 2 ** Math.floor(Math.log2(largest));
}
