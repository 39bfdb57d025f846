import { err, type Result } from '../lib/result.ts';
import type { StatsFailure } from './failure.ts';
import type { OneWayComponents } from './one-way-components.ts';
import type { Variance } from './pooled-variance.ts';
import { satterthwaite } from './satterthwaite.ts';

export type StudyComponents = Pick<
  OneWayComponents,
  'between' | 'within' | 'effectiveSize' | 'betweenVariance'
>;

/**
 * Variance of the mean of one further sitting of `repeats` repeats, s_b² + s_r²/n, from a precision study (groups are its
 * sittings), with Satterthwaite's degrees of freedom. Where s_b² was cut off at zero only the spread within is left, with its
 * degrees of freedom. Same unit as the study's values squared: give it logarithms for ratios.
 */
export function sittingMeanVariance(
  study: StudyComponents,
  repeats: number,
): Result<Variance, StatsFailure> {
  if (!(repeats >= 1 && Number.isFinite(repeats))) {
    return err({
      code: 'out-of-range',
      message: `a sitting has at least one repeat, got ${repeats}`,
    });
  }
  if (study.betweenVariance === 0) {
    return satterthwaite([{ ...study.within, factor: 1 / repeats }]);
  }
  return satterthwaite([
    { ...study.between, factor: 1 / study.effectiveSize },
    { ...study.within, factor: 1 / repeats - 1 / study.effectiveSize },
  ]);
}

export interface Precision {
  /** Standard deviation within a sitting. */
  readonly repeatability: number;
  /** Standard deviation between sittings, beyond that. */
  readonly betweenSittings: number;
  /** Of single values from different sittings: sqrt(s_b² + s_r²). */
  readonly intermediate: number;
  /** Two repeats of one sitting differ by more in one case of twenty: 2.8 s_r. */
  readonly repeatabilityLimit: number;
}

/** The standard deviations of a precision study, in the words of ISO 5725 (limit: 1.96 √2 s_r, rounded to 2.8 there). */
export function precisionOf(study: OneWayComponents): Precision {
  const repeatability = Math.sqrt(study.withinVariance);
  return {
    repeatability,
    betweenSittings: Math.sqrt(study.betweenVariance),
    intermediate: Math.sqrt(study.betweenVariance + study.withinVariance),
    repeatabilityLimit: 2.8 * repeatability,
  };
}
