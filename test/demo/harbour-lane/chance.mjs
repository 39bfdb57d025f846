import { seededRandom } from '../../../dist/lib/random.js';

/**
 * Draws that are the same on every machine: sums of whole numbers only, no logarithm and no sine, whose last bit an engine may
 * choose.
 */
export function chance(seed) {
  const random = seededRandom(seed);
  const uniform = () => random.next() / 2 ** 32;
  return {
    uniform,
    /** Whole, from `least` to `most`. */
    whole: (least, most) => least + Math.floor(uniform() * (most - least + 1)),
    /** Nearly normal, standard deviation 1: the sum of twelve uniform draws (Irwin and Hall). */
    normal: () => Array.from({ length: 12 }, uniform).reduce((sum, one) => sum + one, -6),
    hex: (digits) =>
      Array.from({ length: digits }, () => (random.next() >>> 28).toString(16)).join(''),
  };
}

/** To so many significant digits: what follows would be noise of the arithmetic. */
export const significant = (value, digits) => Number(value.toPrecision(digits));
/** To so many decimals. */
export const rounded = (value, decimals) => Number(value.toFixed(decimals));
