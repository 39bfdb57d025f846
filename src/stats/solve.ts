import { err, ok, type Result } from '../lib/result.ts';
import type { StatsFailure } from './failure.ts';

/**
 * Where a continuous function that rises from below `target` at 0 reaches it, to twelve digits; by bracketing and the Illinois
 * form of false position (M. Dowell, P. Jarratt, BIT 11, 1971).
 */
export function solveRising(of: (x: number) => number, target: number): number {
  let [low, high] = [0, 1];
  let [below, above] = [of(low) - target, of(high) - target];
  while (above < 0 && high < 1e12) {
    [low, below] = [high, above];
    high *= 2;
    above = of(high) - target;
  }
  let last = 0;
  for (let step = 0; step < 200 && high - low > 1e-12 * high; step += 1) {
    const next = (low * above - high * below) / (above - below);
    const found = of(next) - target;
    if (found === 0) return next;
    const side = Math.sign(found);
    // The end that stays a second time counts half, or it would stay for good.
    if (side > 0) {
      [high, above] = [next, found];
      if (side === last) below /= 2;
    } else {
      [low, below] = [next, found];
      if (side === last) above /= 2;
    }
    if (Math.abs(found) < 1e-13) return next;
    last = side;
  }
  return high;
}

/** A search for a whole number. */
export interface Search {
  /** What is counted, for the message. */
  readonly what: string;
  readonly least: number;
  /** Where the answer may lie: near is fast, any number is right. */
  readonly guess?: number;
  /** Above it none is tried. Default a million. */
  readonly most?: number;
  /** More is never less enough. */
  readonly isEnough: (count: number) => boolean;
}

const mostWhole = 1_000_000;

/** The smallest whole number from `least` on that is enough; `out-of-range` where `most` is not. */
export function smallestWhole({
  what,
  least,
  guess = least,
  most = mostWhole,
  isEnough,
}: Search): Result<number, StatsFailure> {
  const start = Number.isNaN(guess) ? least : Math.min(most, Math.max(least, Math.round(guess)));
  // Not enough at `low`, enough at `high`.
  let [low, high] = [least - 1, start];
  if (isEnough(start)) {
    for (let step = 1; high - step > low; step *= 2) {
      if (!isEnough(high - step)) {
        low = high - step;
        break;
      }
      high -= step;
    }
  } else {
    for (let step = 1; ; step *= 2) {
      [low, high] = [high, Math.min(most, high + step)];
      if (low === most) {
        return err({
          code: 'out-of-range',
          message: `more than ${most} ${what} would be needed`,
        });
      }
      if (isEnough(high)) break;
    }
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (isEnough(middle)) high = middle;
    else low = middle;
  }
  return ok(high);
}
