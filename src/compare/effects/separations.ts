import type { Separation } from '../../model/effects.ts';
import { cellsToAdd } from '../../stats/cells-to-add.ts';
import type { Factor } from '../../stats/factor-columns.ts';
import { factorialEffects } from '../../stats/factorial-effects.ts';
import type { Place } from '../../stats/fit-factors.ts';
import { effectTerms } from './fit-metric.ts';

/** Rigs to add so that main effects can be told from each other, then so that they can be told from interactions of two factors. */
export function separations(
  factors: readonly Factor[],
  cells: readonly Place[],
): readonly Separation[] {
  const names = factors.map(({ name }) => name);
  return [1, 2].flatMap((order) => {
    const terms = effectTerms(names, order);
    const mixed = mixedTerms(factors, cells, terms);
    const add = mixed.length === 0 ? [] : cellsToAdd(factors, cells, terms);
    return add.length === 0 ? [] : [{ mixed, add }];
  });
}

function mixedTerms(
  factors: readonly Factor[],
  cells: readonly Place[],
  terms: readonly (readonly string[])[],
): readonly string[] {
  const runs = cells.map((levels) => ({ levels, value: 0 }));
  const found = factorialEffects(factors, runs, terms);
  if (!found.ok) return [];
  return found.value.terms.flatMap(({ term, aliasedWith }) =>
    aliasedWith.length === 0 ? [] : [term],
  );
}
