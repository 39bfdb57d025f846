import type { Metric } from './suite.ts';
import { fromBaseUnit } from './unit.ts';

/** A figure read by hand as its operator would write it: all its digits, in the unit that the suite names. */
export function figureText(value: number, { source }: Metric): string {
  const { factor, symbol } = source.kind === 'operator' ? source : { factor: 1, symbol: '' };
  // 15 digits are what a decimal number keeps through a double.
  const digits = Number(fromBaseUnit(value, factor).toPrecision(15));
  return `${digits} ${symbol === '1' ? '' : symbol}`.trimEnd();
}
