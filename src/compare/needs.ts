import { detectableEffect, twoSampleDesign } from '../stats/power-t.ts';

/** Beyond these another way is needed, not patience. */
export const mostSittings = 100;
export const mostRepeats = 1000;

/** Chance of finding the difference when it is there. */
const power = 0.8;

/**
 * A function that gives how many values a side find `effect` at 80 % power where values spread by `spread` (both on logs), from 2
 * to `most`; null beyond. As `sampleSizeOfT`, but thousands of questions at one level share what is computed.
 */
export function sizeFinder(
  alpha: number,
): (effect: number, spread: number, most: number) => number | null {
  const found = knownFor(alpha);
  const detectable = (count: number): number => {
    const before = found.get(count);
    if (before !== undefined) return before;
    const effect = detectableEffect(twoSampleDesign(1, count), power, alpha);
    const value = effect.ok ? effect.value : Number.POSITIVE_INFINITY;
    found.set(count, value);
    return value;
  };
  return (effect, spread, most) => {
    const wanted = effect / spread;
    if (!(wanted >= detectable(most))) return null;
    let [low, high] = [1, most];
    while (high - low > 1) {
      const middle = Math.floor((low + high) / 2);
      if (wanted >= detectable(middle)) high = middle;
      else low = middle;
    }
    return high;
  };
}

/** By level, and by number of values a side: the effect that it finds, in standard deviations. */
const known = new Map<number, Map<number, number>>();
/** A level for each number of open rows: few in practice, and no more than these are kept. */
const mostLevels = 256;

function knownFor(alpha: number): Map<number, number> {
  const found = known.get(alpha) ?? new Map<number, number>();
  if (known.size >= mostLevels) known.clear();
  known.set(alpha, found);
  return found;
}
