import type { Column } from './least-squares.ts';

/** Something varied on purpose, with its levels in order: the first is the baseline, coded −1. */
export interface Factor {
  readonly name: string;
  readonly levels: readonly string[];
}

/** One value found with each factor at a level. */
export interface FactorRun {
  readonly levels: Readonly<Record<string, string>>;
  readonly value: number;
}

/** Name of a main effect (`memory`) or an interaction (`memory × cooler`). */
export function termName(factors: readonly string[]): string {
  return factors.join(' × ');
}

/**
 * The columns of a main effect or interaction: for two levels −1 and +1, for more one column a level but the last, with sums
 * of zero; interactions are products. Runs and terms name only known factors and levels (else a programmer's fault).
 */
export function termColumns(
  term: readonly string[],
  factors: readonly Factor[],
  runs: readonly FactorRun[],
): readonly Column[] {
  const name = termName(term);
  return term
    .map((factor) => contrasts(factorNamed(factor, factors), runs))
    .reduce(products)
    .map((values, at) => ({ name: `${name}#${at + 1}`, values }));
}

function contrasts(factor: Factor, runs: readonly FactorRun[]): readonly (readonly number[])[] {
  const places = runs.map(({ levels }) => levelOf(levels[factor.name], factor));
  const last = factor.levels.length - 1;
  if (last === 1) return [places.map((place) => (place === 0 ? -1 : 1))];
  return Array.from({ length: last }, (_, level) =>
    places.map((place) => Number(place === level) - Number(place === last)),
  );
}

function products(
  a: readonly (readonly number[])[],
  b: readonly (readonly number[])[],
): readonly (readonly number[])[] {
  return a.flatMap((left) =>
    b.map((right) => left.map((value, run) => value * (right[run] ?? Number.NaN))),
  );
}

function factorNamed(name: string, factors: readonly Factor[]): Factor {
  const found = factors.find((factor) => factor.name === name);
  if (found === undefined) throw new Error(`internal error: no factor ${name}`);
  return found;
}

function levelOf(level: string | undefined, factor: Factor): number {
  const place = level === undefined ? -1 : factor.levels.indexOf(level);
  if (place < 0) throw new Error(`internal error: factor ${factor.name} has no level ${level}`);
  return place;
}
