import { err, ok, type Result } from '../lib/result.ts';
import { checkValues, type StatsFailure } from './failure.ts';
import { mean } from './mean.ts';
import { sum } from './sum.ts';

/**
 * Autocorrelation at `lag` steps, one by default: Σ d(i)·d(i + lag) / Σ d(i)², d the distances from the mean (NIST/SEMATECH
 * e-Handbook 1.3.5.12). Of independent values it lies within ±1.96/√n in 19 of 20 cases, a little below zero on average (−1/n).
 * Two more values than the lag, three at least; `no-spread` where all are equal.
 */
export function autocorrelation(values: readonly number[], lag = 1): Result<number, StatsFailure> {
  if (!(Number.isInteger(lag) && lag >= 1)) {
    return err({ code: 'out-of-range', message: `a lag is a whole number from 1, got ${lag}` });
  }
  const fault = checkValues(`the autocorrelation at lag ${lag}`, values, lag + 2);
  if (fault !== null) return err(fault);
  const centre = mean(values);
  if (!centre.ok) return centre;
  const distances = values.map((value) => value - centre.value);
  const squares = sum(distances.map((distance) => distance ** 2));
  if (squares === 0) {
    return err({
      code: 'no-spread',
      message: 'an autocorrelation needs values that differ, got equal ones',
    });
  }
  const products = distances.slice(lag).map((distance, at) => distance * (distances[at] ?? NaN));
  return ok(sum(products) / squares);
}
