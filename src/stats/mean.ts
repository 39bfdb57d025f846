import { err, ok, type Result } from '../lib/result.ts';
import { checkValues, type StatsFailure, tooLarge } from './failure.ts';
import { sum } from './sum.ts';

/** Arithmetic mean: right for costs (seconds, bytes, joules). At least one finite value. */
export function mean(values: readonly number[]): Result<number, StatsFailure> {
  const fault = checkValues('a mean', values, 1);
  if (fault !== null) return err(fault);
  const plain = sum(values) / values.length;
  // Dividing first keeps sums beyond the largest number from overflowing.
  const rough = Number.isFinite(plain) ? plain : sum(values.map((value) => value / values.length));
  // One correction step takes out the rounding of the division (StRD NumAcc4 needs it).
  const centre = rough + sum(values.map((value) => value - rough)) / values.length;
  return Number.isFinite(centre) ? ok(centre) : err(tooLarge('a mean'));
}
