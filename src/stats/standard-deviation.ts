import { err, ok, type Result } from '../lib/result.ts';
import { checkValues, type StatsFailure } from './failure.ts';
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
  const squares = sum(deviations.map((deviation) => deviation * deviation));
  const correction = sum(deviations) ** 2 / values.length;
  return ok(Math.sqrt((squares - correction) / (values.length - 1)));
}
