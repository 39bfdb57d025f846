import { err, ok, type Result } from '../lib/result.ts';
import { checkLevel, type StatsFailure } from './failure.ts';
import type { Interval } from './mean-interval.ts';
import { tQuantile, tUpperTail } from './t-quantile.ts';

/**
 * A difference (or, on logarithms, a ratio) with what is known of its error: the common ground of every comparison, so that
 * tests, intervals and equivalence are written once. `value / standardError` is taken to follow Student's t.
 */
export interface Estimate {
  readonly value: number;
  /** Above zero: where the values show no spread there is no estimate, but the failure `no-spread`. */
  readonly standardError: number;
  readonly degreesOfFreedom: number;
}

export interface TTest {
  readonly t: number;
  /** Two-sided: how often t lies at least this far from zero when there is no difference. */
  readonly p: number;
}

/** Student's t of the estimate against `expected`, two-sided. */
export function testEstimate(estimate: Estimate, expected = 0): TTest {
  const t = (estimate.value - expected) / estimate.standardError;
  return { t, p: 2 * tUpperTail(Math.abs(t), estimate.degreesOfFreedom) };
}

/** Two-sided confidence interval, value ± t · standard error. */
export function estimateInterval(
  estimate: Estimate,
  confidence = 0.95,
): Result<Interval, StatsFailure> {
  const fault = checkLevel('a confidence level', confidence);
  if (fault !== null) return err(fault);
  const half = tQuantile((1 + confidence) / 2, estimate.degreesOfFreedom) * estimate.standardError;
  return ok({ low: estimate.value - half, high: estimate.value + half });
}

/** The interval of a ratio whose estimate is on logarithms. */
export function ratioInterval(
  estimate: Estimate,
  confidence = 0.95,
): Result<Interval, StatsFailure> {
  const logs = estimateInterval(estimate, confidence);
  if (!logs.ok) return logs;
  return ok({ low: Math.exp(logs.value.low), high: Math.exp(logs.value.high) });
}

/** `estimate`, or `no-spread` where its error is zero or not a number: equal values cannot tell how sure a difference is. */
export function soundEstimate(what: string, estimate: Estimate): Result<Estimate, StatsFailure> {
  if (estimate.standardError > 0 && estimate.degreesOfFreedom > 0) return ok(estimate);
  return err({ code: 'no-spread', message: `${what} needs values that differ, got equal ones` });
}
