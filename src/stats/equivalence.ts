import { err, ok, type Result } from '../lib/result.ts';
import type { Estimate } from './estimate.ts';
import type { StatsFailure } from './failure.ts';
import type { Interval } from './mean-interval.ts';
import { tUpperTail } from './t-quantile.ts';

export interface EquivalenceTest {
  /** Of the hypothesis that the true value is at or below the lower limit. */
  readonly lowerP: number;
  /** Of the hypothesis that the true value is at or above the upper limit. */
  readonly upperP: number;
  /** The larger of the two: at most alpha means equivalent, the same as the 1 − 2 alpha interval lying within the limits. */
  readonly p: number;
}

/**
 * Two one-sided tests that the true value lies within `limits` (D. J. Schuirmann, J. Pharmacokinet. Biopharm. 15(6), 1987).
 * Both hold at level alpha together, without a correction. `out-of-range` unless the limits are finite and in order.
 */
export function testEquivalence(
  estimate: Estimate,
  limits: Interval,
): Result<EquivalenceTest, StatsFailure> {
  const fault = checkLimits(limits);
  if (fault !== null) return err(fault);
  const { value, standardError, degreesOfFreedom } = estimate;
  const lowerP = tUpperTail((value - limits.low) / standardError, degreesOfFreedom);
  const upperP = tUpperTail((limits.high - value) / standardError, degreesOfFreedom);
  return ok({ lowerP, upperP, p: Math.max(lowerP, upperP) });
}

/**
 * The limits on logarithms for a difference that matters given as a fraction, 0.02 for 2 %: from 1/(1 + m) to 1 + m, so that
 * it does not depend on which side is the baseline.
 */
export function ratioLimits(fraction: number): Result<Interval, StatsFailure> {
  if (!(fraction > 0 && Number.isFinite(fraction))) {
    return err({
      code: 'out-of-range',
      message: `a difference that matters is a fraction above 0, got ${fraction}`,
    });
  }
  const high = Math.log1p(fraction);
  return ok({ low: -high, high });
}

/** A failure unless the limits of equivalence are finite and in order. */
export function checkLimits({ low, high }: Interval): StatsFailure | null {
  if (Number.isFinite(low) && Number.isFinite(high) && low < high) return null;
  return {
    code: 'out-of-range',
    message: `limits of equivalence are finite and in rising order, got ${low} to ${high}`,
  };
}
