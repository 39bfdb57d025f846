import { RunningSum } from '../lib/running-sum.ts';

/** Sum without the rounding errors of the additions, see `RunningSum`. */
export function sum(values: readonly number[]): number {
  const total = new RunningSum();
  for (const value of values) total.add(value);
  return total.value;
}
