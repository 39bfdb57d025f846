import { err, ok, type Result } from '../lib/result.ts';
import { chiExpectation } from './chi-expectation.ts';
import { checkLevel, type StatsFailure } from './failure.ts';
import { normalCdf, normalQuantile } from './normal.ts';
import { smallestWhole, solveRising } from './solve.ts';
import { tQuantile } from './t-quantile.ts';

/** How well a difference is known in advance: the standard error of its estimate (from true spreads) and what is behind it. */
export interface Design {
  readonly standardError: number;
  readonly degreesOfFreedom: number;
}

/**
 * Chance that a two-sided t test at `alpha` finds a true difference of `effect`, either way round (noncentral t, both tails;
 * J. Cohen, Statistical Power Analysis for the Behavioral Sciences, 2nd ed., 1988). The spread is taken as known: from few
 * values it is not, and the true power may be far off. `out-of-range` for a standard error or degrees of freedom that are not
 * positive (below 1: too few to say).
 */
export function powerOfT(
  effect: number,
  design: Design,
  alpha = 0.05,
): Result<number, StatsFailure> {
  const fault =
    checkDesign(design) ?? checkLevel('a level of significance', alpha) ?? checkEffect(effect);
  if (fault !== null) return err(fault);
  return ok(powerAt(effect, design, alpha));
}

/** The smallest true difference, above zero, that the test finds with chance `power` (above `alpha`). */
export function detectableEffect(
  design: Design,
  power = 0.8,
  alpha = 0.05,
): Result<number, StatsFailure> {
  const fault =
    checkDesign(design) ??
    checkLevel('a level of significance', alpha) ??
    checkLevel('a power', power);
  if (fault !== null) return err(fault);
  if (power <= alpha) {
    return err({
      code: 'out-of-range',
      message: `a power to plan for lies above the level of significance ${alpha}, got ${power}`,
    });
  }
  const found = solveRising(
    (shift) => powerAt(shift, { ...design, standardError: 1 }, alpha),
    power,
  );
  return ok(found * design.standardError);
}

/**
 * Values a side (2 or more) that a two-sample t test with equal sides needs to find `effect` with chance `power`, both sides
 * spreading by `standardDeviation`. `out-of-range` where the effect is zero or more than a million would be needed.
 */
export function sampleSizeOfT(
  effect: number,
  standardDeviation: number,
  { power = 0.8, alpha = 0.05 }: { power?: number; alpha?: number } = {},
): Result<number, StatsFailure> {
  const fault =
    checkDesign(twoSampleDesign(standardDeviation, 2)) ??
    checkLevel('a level of significance', alpha) ??
    checkLevel('a power', power) ??
    checkEffect(effect);
  if (fault !== null) return err(fault);
  return smallestWhole({
    what: 'values a side',
    least: 2,
    guess: normalSampleSize(effect / standardDeviation, power, alpha / 2),
    isEnough: (count) => powerAt(effect, twoSampleDesign(standardDeviation, count), alpha) >= power,
  });
}

/** Two sides with `first` and `second` values and one spread: standard error and degrees of freedom of their difference. */
export function twoSampleDesign(
  standardDeviation: number,
  first: number,
  second: number = first,
): Design {
  return {
    standardError: standardDeviation * Math.sqrt(1 / first + 1 / second),
    degreesOfFreedom: first + second - 2,
  };
}

/** A failure unless both parts are positive and finite, with at least one degree of freedom. */
export function checkDesign({ standardError, degreesOfFreedom }: Design): StatsFailure | null {
  const fits = standardError > 0 && Number.isFinite(standardError);
  if (fits && degreesOfFreedom >= 1 && Number.isFinite(degreesOfFreedom)) return null;
  return {
    code: 'out-of-range',
    message: `a power needs a standard error above 0 and at least 1 degree of freedom, got ${standardError} and ${degreesOfFreedom}`,
  };
}

/** A failure unless the effect is finite. */
export function checkEffect(effect: number): StatsFailure | null {
  if (Number.isFinite(effect)) return null;
  return { code: 'not-finite', message: `a power needs a finite effect, got ${effect}` };
}

/** Values a side that would do if the spread were known and one tail counted: where a search starts. */
export function normalSampleSize(effectInSd: number, power: number, tail: number): number {
  return 2 * ((normalQuantile(1 - tail) + normalQuantile(power)) / effectInSd) ** 2;
}

function powerAt(effect: number, design: Design, alpha: number): number {
  const critical = tQuantile(1 - alpha / 2, design.degreesOfFreedom);
  const shift = effect / design.standardError;
  const power = chiExpectation(design.degreesOfFreedom, {
    of: (w) => normalCdf(shift - critical * w) + normalCdf(-shift - critical * w),
    steepness: critical,
  });
  return Math.min(1, power);
}
