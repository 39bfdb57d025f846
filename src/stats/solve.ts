import { err, ok, type Result } from '../lib/result.ts';
import type { StatsFailure } from './failure.ts';

/** Where a function that rises from below `target` at 0 reaches it, to the last digits; by bracketing and halving. */
export function solveRising(of: (x: number) => number, target: number): number {
  let high = 1;
  while (of(high) < target && high < 1e12) high *= 2;
  let low = 0;
  for (let step = 0; step < 100; step += 1) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (of(middle) < target) low = middle;
    else high = middle;
  }
  return high;
}

const mostWhole = 1_000_000;

/**
 * The smallest whole number from `least` on that is enough, where more is never less enough. `out-of-range` where a million is
 * not.
 */
export function smallestWhole(
  what: string,
  least: number,
  isEnough: (count: number) => boolean,
): Result<number, StatsFailure> {
  let high = least;
  let low = least - 1;
  while (!isEnough(high)) {
    if (high >= mostWhole) {
      return err({
        code: 'out-of-range',
        message: `more than ${mostWhole} ${what} would be needed`,
      });
    }
    low = high;
    high = Math.min(mostWhole, high * 2);
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (isEnough(middle)) high = middle;
    else low = middle;
  }
  return ok(high);
}
