import type { EffectContrast, FactorEffect } from '../../model/effects.ts';
import type { Place } from '../../stats/fit-factors.ts';
import type { Levels } from '../verdict.ts';
import type { MetricFit } from './fit-metric.ts';
import { contrastsOf } from './judge-effects.ts';

type Found = Pick<FactorEffect, 'factors' | 'finding' | 'mixedWith'>;

/** The other factors that the effect of a factor is shown to depend on. */
export function dependsOn(factor: string, effects: readonly Found[]): readonly string[] {
  const shown = effects.filter(
    ({ factors, finding }) => factors.length > 1 && factors.includes(factor) && finding === 'shown',
  );
  return [...new Set(shown.flatMap(({ factors }) => factors))].filter((name) => name !== factor);
}

/** Of a factor with each combination of levels of those that it depends on; empty where it depends on none, or these rigs cannot tell. */
export function simpleEffects(
  factor: string,
  others: readonly string[],
  metric: MetricFit,
  levels: Levels,
): readonly EffectContrast[] {
  if (others.length === 0) return [];
  const places = others.reduce<readonly Place[]>(
    (found, name) => {
      const own = metric.fitted.factors.find((one) => one.name === name)?.levels ?? [];
      return found.flatMap((place) => own.map((level) => ({ ...place, [name]: level })));
    },
    [{}],
  );
  return places.flatMap((place) =>
    contrastsOf(factor, place, metric, levels).map(({ contrast }) => contrast),
  );
}
