import type { EffectContrast, EffectFinding, FactorEffect } from '../../model/effects.ts';
import { estimateInterval } from '../../stats/estimate.ts';
import { judgeTerms, type TermEffect } from '../../stats/factorial-effects.ts';
import { factorContrast, type Place } from '../../stats/fit-factors.ts';
import { isWithin, type Levels } from '../verdict.ts';
import type { MetricFit } from './fit-metric.ts';

export type JudgedEffect = Omit<FactorEffect, 'simple' | 'sentence' | 'finding' | 'adjustedP'> & {
  /** Every part of it lies surely within what matters. */
  readonly isAlike: boolean;
};

/** Main effects and interactions of one metric; interactions that are wholly mixed with earlier effects are told with those. */
export function judgeEffects(metric: MetricFit, levels: Levels): readonly JudgedEffect[] {
  return judgeTerms(metric.fitted, metric.variance)
    .terms.filter(({ factors, degreesOfFreedom }) => factors.length === 1 || degreesOfFreedom > 0)
    .map((term) => judgeEffect(term, metric, levels));
}

function judgeEffect(term: TermEffect, metric: MetricFit, levels: Levels): JudgedEffect {
  const told =
    term.factors.length === 1
      ? contrastsOf(term.factors[0] ?? '', {}, metric, levels)
      : interactionOf(term, levels);
  return {
    factors: term.factors,
    contrasts: told.map(({ contrast }) => contrast),
    df: term.degreesOfFreedom,
    p: term.p,
    mixedWith: term.aliasedWith,
    isAlike: told.length > 0 && told.every(({ isAlike }) => isAlike),
  };
}

interface Told {
  readonly contrast: EffectContrast;
  readonly isAlike: boolean;
}

/** Each level of a factor against its first, others held at `at`; none where these rigs cannot tell all of them. */
export function contrastsOf(
  factor: string,
  at: Place,
  { fitted, variance }: MetricFit,
  levels: Levels,
): readonly Told[] {
  const [from = '', ...others] = fitted.factors.find(({ name }) => name === factor)?.levels ?? [];
  const found = others.map((to) => {
    const contrast = factorContrast(fitted, { ...at, [factor]: from }, { ...at, [factor]: to });
    return contrast === null ? null : { to, ...contrast };
  });
  return found.flatMap((one) => {
    if (one === null) return [];
    const { to, value, unitError } = one;
    const error = variance === null ? null : unitError * Math.sqrt(variance.value);
    const df = variance?.degreesOfFreedom ?? 0;
    return [tell({ from, to, at }, value, error === null ? null : { error, df }, levels)];
  });
}

function interactionOf({ effect, estimate }: TermEffect, levels: Levels): readonly Told[] {
  if (effect === null) return [];
  const spread =
    estimate === null ? null : { error: estimate.standardError, df: estimate.degreesOfFreedom };
  return [tell({ from: null, to: null, at: {} }, effect, spread, levels)];
}

function tell(
  place: Pick<EffectContrast, 'from' | 'to' | 'at'>,
  value: number,
  spread: { readonly error: number; readonly df: number } | null,
  levels: Levels,
): Told {
  const ratio = Math.exp(value);
  if (spread === null) {
    return { contrast: { ...place, ratio, low: null, high: null }, isAlike: false };
  }
  const estimate = { value, standardError: spread.error, degreesOfFreedom: spread.df };
  const interval = estimateInterval(estimate, 1 - levels.alpha);
  const [low, high] = interval.ok ? [interval.value.low, interval.value.high] : [null, null];
  return {
    contrast: {
      ...place,
      ratio,
      low: low === null ? null : Math.exp(low),
      high: high === null ? null : Math.exp(high),
    },
    isAlike: isWithin(estimate, levels),
  };
}

/** What is found of an effect once its p is adjusted. `drift`: log by which the baseline moved. */
export function findingOf(
  effect: JudgedEffect & { readonly adjustedP: number | null },
  { alpha, matters }: Levels,
  drift: number | null,
): EffectFinding {
  const { df, adjustedP, contrasts, isAlike } = effect;
  if (df === 0) return 'untold';
  if (adjustedP === null) return 'untested';
  const size = Math.max(...contrasts.map(({ ratio }) => Math.abs(Math.log(ratio))));
  const moved = Math.abs(drift ?? 0);
  if (adjustedP < alpha) return contrasts.length > 0 && moved > size ? 'voided' : 'shown';
  if (!isAlike) return 'open';
  return moved > Math.log1p(matters) ? 'voided' : 'alike';
}
