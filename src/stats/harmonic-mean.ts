import { err, ok, type Result } from '../lib/result.ts';
import { checkPositive, type StatsFailure } from './failure.ts';
import { sum } from './sum.ts';

/**
 * Harmonic mean: right for rates over equal work, since it is total work divided by total time
 * (Fleming & Wallace, CACM 29(3), 1986; Hoefler & Belli, SC'15, rule 3). At least one value, all above zero.
 */
export function harmonicMean(values: readonly number[]): Result<number, StatsFailure> {
  const fault = checkPositive('a harmonic mean', values, 1);
  if (fault !== null) return err(fault);
  const reciprocals = sum(values.map((value) => 1 / value));
  if (Number.isFinite(reciprocals)) return ok(values.length / reciprocals);
  // Figures so small that their reciprocals overflow are taken relative to the smallest.
  const least = Math.min(...values);
  return ok(least * (values.length / sum(values.map((value) => least / value))));
}
