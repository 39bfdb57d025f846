import { err, ok, type Result } from '../lib/result.ts';
import { type Estimate, soundEstimate } from './estimate.ts';
import { checkPositive, checkValues, type StatsFailure } from './failure.ts';
import { mean } from './mean.ts';
import type { Variance } from './pooled-variance.ts';
import { pooledVariance } from './pooled-variance.ts';
import { standardDeviation } from './standard-deviation.ts';

/** How the spread of the two sides is joined: each its own (Welch), or one for both (pooled). */
export type Spread = 'welch' | 'pooled';

/**
 * Difference of two means, first less second. `welch` lets the sides spread differently, with the degrees of freedom of
 * Welch (Biometrika 34, 1947) and Satterthwaite; `pooled` takes one spread for both (NIST/SEMATECH e-Handbook 1.3.5.3).
 * Assumes independent values, near normal for small n. At least two finite values a side.
 */
export function meanDifference(
  first: readonly number[],
  second: readonly number[],
  spread: Spread = 'welch',
): Result<Estimate, StatsFailure> {
  if (spread === 'welch') return welchDifference(first, second);
  const fault = checkSides('a t test', first, second, 2);
  if (fault !== null) return err(fault);
  const variance = pooledVariance([first, second]);
  return variance.ok ? differenceWith(variance.value, first, second) : variance;
}

/**
 * As `meanDifference`, on logarithms: the estimate is the log of the ratio of geometric means, first over second; give it to
 * `ratioInterval`. Assumes lognormal values, or so small a spread that it makes no difference. All values above zero.
 */
export function logRatio(
  first: readonly number[],
  second: readonly number[],
  spread: Spread = 'welch',
): Result<Estimate, StatsFailure> {
  const fault = checkPositive('a ratio', first, 2) ?? checkPositive('a ratio', second, 2);
  if (fault !== null) return err(fault);
  return meanDifference(first.map(Math.log), second.map(Math.log), spread);
}

/**
 * Difference of two means whose variance is known from elsewhere: pooled over more groups than these two, or from a
 * precision study. At least one finite value a side; independent of each other given that variance.
 */
export function differenceWith(
  variance: Variance,
  first: readonly number[],
  second: readonly number[],
): Result<Estimate, StatsFailure> {
  const fault = checkSides('a difference', first, second, 1);
  if (fault !== null) return err(fault);
  const [a, b] = [mean(first), mean(second)];
  if (!a.ok) return a;
  if (!b.ok) return b;
  return soundEstimate('a difference', {
    value: a.value - b.value,
    standardError: Math.sqrt(variance.value * (1 / first.length + 1 / second.length)),
    degreesOfFreedom: variance.degreesOfFreedom,
  });
}

function welchDifference(
  first: readonly number[],
  second: readonly number[],
): Result<Estimate, StatsFailure> {
  const [a, b] = [sideOf(first), sideOf(second)];
  if (!a.ok) return a;
  if (!b.ok) return b;
  const error = Math.hypot(a.value.error, b.value.error);
  // Shares of the variance instead of its squares: those of tiny spreads would underflow.
  const [shareA, shareB] = [(a.value.error / error) ** 2, (b.value.error / error) ** 2];
  return soundEstimate("Welch's t test", {
    value: a.value.mean - b.value.mean,
    standardError: error,
    degreesOfFreedom: 1 / (shareA ** 2 / (first.length - 1) + shareB ** 2 / (second.length - 1)),
  });
}

function sideOf(
  values: readonly number[],
): Result<{ readonly mean: number; readonly error: number }, StatsFailure> {
  const fault = checkValues("Welch's t test", values, 2);
  if (fault !== null) return err(fault);
  const centre = mean(values);
  if (!centre.ok) return centre;
  const spread = standardDeviation(values);
  if (!spread.ok) return spread;
  return ok({ mean: centre.value, error: spread.value / Math.sqrt(values.length) });
}

function checkSides(
  what: string,
  first: readonly number[],
  second: readonly number[],
  least: number,
): StatsFailure | null {
  return checkValues(what, first, least) ?? checkValues(what, second, least);
}
