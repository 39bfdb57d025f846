import { err, ok, type Result } from '../lib/result.ts';
import { chiExpectation } from './chi-expectation.ts';
import { checkLimits } from './equivalence.ts';
import { checkLevel, type StatsFailure } from './failure.ts';
import type { Interval } from './mean-interval.ts';
import { normalCdf } from './normal.ts';
import {
  checkDesign,
  checkEffect,
  type Design,
  normalSampleSize,
  twoSampleDesign,
} from './power-t.ts';
import { smallestWhole } from './solve.ts';
import { tQuantile } from './t-quantile.ts';

/**
 * Chance that two one-sided tests at `alpha` each call a true difference of `effect` equivalent within `limits`: exact, as
 * by Owen's Q (D. B. Owen, Biometrika 52, 1965; S. A. Julious, Stat. Med. 23(12), 2004). On logarithms for ratios. The spread is
 * taken as known. `out-of-range` as `powerOfT`, and for limits that are not in order.
 */
export function powerOfEquivalence(
  effect: number,
  limits: Interval,
  design: Design,
  alpha = 0.05,
): Result<number, StatsFailure> {
  const fault = checkAll(effect, limits, design, alpha);
  return fault === null ? ok(powerAt(effect, limits, design, alpha)) : err(fault);
}

/**
 * Values a side (2 or more) that two one-sided tests with equal sides need to call a true difference of `effect` equivalent
 * with chance `power`, a half or more (below a third, more values do not always help). `out-of-range` where the effect lies outside the limits or more than a million would be needed.
 */
export function sampleSizeOfEquivalence(
  effect: number,
  limits: Interval,
  standardDeviation: number,
  { power = 0.8, alpha = 0.05 }: { power?: number; alpha?: number } = {},
): Result<number, StatsFailure> {
  const fault =
    checkAll(effect, limits, twoSampleDesign(standardDeviation, 2), alpha) ??
    checkLevel('a power', power);
  if (fault !== null) return err(fault);
  if (effect <= limits.low || effect >= limits.high) {
    return err({
      code: 'out-of-range',
      message: `an effect to be called equivalent lies between ${limits.low} and ${limits.high}, got ${effect}`,
    });
  }
  const nearest = Math.min(limits.high - effect, effect - limits.low);
  return smallestWhole({
    what: 'values a side',
    least: 2,
    guess: normalSampleSize(nearest / standardDeviation, power, alpha),
    isEnough: (count) =>
      powerAt(effect, limits, twoSampleDesign(standardDeviation, count), alpha) >= power,
  });
}

function checkAll(
  effect: number,
  limits: Interval,
  design: Design,
  alpha: number,
): StatsFailure | null {
  return (
    checkLimits(limits) ??
    checkDesign(design) ??
    checkLevel('a level of significance', alpha) ??
    checkEffect(effect)
  );
}

function powerAt(effect: number, limits: Interval, design: Design, alpha: number): number {
  const t = tQuantile(1 - alpha, design.degreesOfFreedom);
  const high = (limits.high - effect) / design.standardError;
  const low = (limits.low - effect) / design.standardError;
  // Beyond this spread no estimate, wherever it lies, passes both tests.
  const most = t > 0 ? (high - low) / (2 * t) : Number.POSITIVE_INFINITY;
  const power = chiExpectation(design.degreesOfFreedom, {
    of: (w) => normalCdf(high - t * w) - normalCdf(low + t * w),
    steepness: t,
    most,
  });
  return Math.min(1, Math.max(0, power));
}
