import { err, ok, type Result } from '../lib/result.ts';
import { type Factor, type FactorRun, termColumns } from './factor-columns.ts';
import { checkValues, type StatsFailure } from './failure.ts';
import {
  type Alias,
  type Column,
  combineCoefficients,
  independentColumns,
  type LeastSquares,
  leastSquares,
} from './least-squares.ts';

/** A fit of factors and interactions to values, and which columns of the model these runs could not tell from others. */
export interface FactorFit {
  readonly factors: readonly Factor[];
  readonly values: readonly number[];
  readonly terms: readonly {
    readonly names: readonly string[];
    readonly columns: readonly Column[];
  }[];
  readonly kept: readonly Column[];
  readonly aliased: readonly Alias[];
  readonly fit: LeastSquares;
}

/** Name of the constant among aliased terms; in brackets, no factor has it. */
const constant = '(mean)';

/** At least two runs with finite values, and factors with at least two levels; earlier terms are kept before later ones. */
export function fitFactors(
  factors: readonly Factor[],
  runs: readonly FactorRun[],
  terms: readonly (readonly string[])[],
): Result<FactorFit, StatsFailure> {
  const values = runs.map(({ value }) => value);
  const fault = checkValues('a fit of factors', values, 2) ?? checkFactors(factors);
  if (fault !== null) return err(fault);
  const intercept = { name: constant, values: values.map(() => 1) };
  const byTerm = terms.map((names) => ({ names, columns: termColumns(names, factors, runs) }));
  const { kept, aliased } = independentColumns([
    intercept,
    ...byTerm.flatMap(({ columns }) => columns),
  ]);
  return ok({ factors, values, terms: byTerm, kept, aliased, fit: leastSquares(kept, values) });
}

/** Levels of some factors; over all others the mean of their levels is taken, each level counting alike. */
export type Place = Readonly<Record<string, string>>;

export interface FactorContrast {
  readonly value: number;
  /** Times the standard deviation of one value it is the standard error. */
  readonly unitError: number;
  /** Terms that would have to be nothing for it to be what it seems; empty where the runs tell it by themselves. */
  readonly mixedWith: readonly string[];
}

/**
 * How far one place lies above another by the fit; null where the runs say nothing of it. With both places fixing one factor it is a
 * main effect, with others fixed alike a simple effect.
 */
export function factorContrast(fitted: FactorFit, from: Place, to: Place): FactorContrast | null {
  const weights = new Map<Column, number>();
  for (const { names, columns } of fitted.terms) {
    if (names.some((name) => from[name] === undefined || to[name] === undefined)) continue;
    const [here, there] = [from, to].map((levels) =>
      termColumns(names, fitted.factors, [{ levels, value: 0 }]),
    );
    for (const [at, column] of columns.entries()) {
      weights.set(column, (there?.[at]?.values[0] ?? 0) - (here?.[at]?.values[0] ?? 0));
    }
  }
  const weightOf = (column: Column): number => weights.get(column) ?? 0;
  if (fitted.aliased.some(({ column }) => weightOf(column) !== 0)) return null;
  const mixed = fitted.aliased.filter(
    ({ of }) =>
      Math.abs(of.reduce((sum, { column, factor }) => sum + factor * weightOf(column), 0)) > noise,
  );
  const combined = combineCoefficients(fitted.fit, fitted.kept.map(weightOf));
  return { ...combined, mixedWith: [...new Set(mixed.map(({ column }) => termOfColumn(column)))] };
}

/** Differences of weights below this come from rounding. */
const noise = 1e-9;

export function termOfColumn({ name }: Column): string {
  return name.replace(/#\d+$/, '');
}

function checkFactors(factors: readonly Factor[]): StatsFailure | null {
  const odd = factors.find(({ levels }) => levels.length < 2);
  if (odd === undefined) return null;
  return {
    code: 'too-few-values',
    message: `a factor needs at least 2 levels, ${odd.name} has ${odd.levels.length}`,
  };
}
