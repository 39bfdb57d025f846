import { ok, type Result } from '../lib/result.ts';
import type { Estimate } from './estimate.ts';
import { fUpperTail } from './f-tail.ts';
import { type Factor, type FactorRun, termName } from './factor-columns.ts';
import type { StatsFailure } from './failure.ts';
import { type FactorFit, fitFactors, termOfColumn } from './fit-factors.ts';
import { type Alias, type Column, leastSquares, residualVariance } from './least-squares.ts';
import type { Variance } from './pooled-variance.ts';

export interface TermEffect {
  readonly term: string;
  readonly factors: readonly string[];
  /** Free parts of the term that these runs can tell; 0 where all of it is aliased. */
  readonly degreesOfFreedom: number;
  /** What the fit loses without this term and with all others. */
  readonly squares: number;
  /** Null where nothing is left to judge it by. */
  readonly f: number | null;
  readonly p: number | null;
  /** Two levels a factor: mean at the upper level less mean at the lower one (of an interaction, the product of signs). */
  readonly effect: number | null;
  /** The same with its error; null also where no residual is left, or none that differs from zero. */
  readonly estimate: Estimate | null;
  /** Terms that these runs cannot tell from this one, `(mean)` among them: none of them may be named as the cause. */
  readonly aliasedWith: readonly string[];
}

export interface FactorialEffects {
  readonly mean: number;
  readonly terms: readonly TermEffect[];
  /** Mean square of the residuals; null where the terms use up all runs. */
  readonly residual: Variance | null;
  /** Whether the runs can tell all terms apart. */
  readonly isFullRank: boolean;
}

/**
 * Effects of factors and their interactions by least squares, full factorial or not, balanced or not (NIST/SEMATECH
 * e-Handbook 5.4.7.1), with the terms that the runs cannot tell apart. Each term is tested with all others in the model, so that
 * their order does not matter but for which of two aliased terms is kept: the earlier. Assumes independent, normal residuals with
 * one spread: give it one value a sitting, on logarithms where effects are ratios. At least two runs with finite values, and
 * factors with at least two levels.
 */
export function factorialEffects(
  factors: readonly Factor[],
  runs: readonly FactorRun[],
  terms: readonly (readonly string[])[],
): Result<FactorialEffects, StatsFailure> {
  const fitted = fitFactors(factors, runs, terms);
  if (!fitted.ok) return fitted;
  return ok(judgeTerms(fitted.value, residualVariance(fitted.value.fit)));
}

/** The terms of a fit judged by any variance of one value, that of the residuals or one known from elsewhere; null: not judged. */
export function judgeTerms(fitted: FactorFit, variance: Variance | null): FactorialEffects {
  const { kept, aliased, fit } = fitted;
  const partners = aliasPartners(aliased);
  return {
    mean: fit.coefficients[0] ?? Number.NaN,
    terms: fitted.terms.map(({ names, columns }) => ({
      term: termName(names),
      factors: names,
      ...judge(
        columns.filter((column) => kept.includes(column)),
        fitted,
        variance,
      ),
      ...effectOf(columns, fitted, variance),
      aliasedWith: [...(partners.get(termName(names)) ?? [])]
        .filter((other) => other !== termName(names))
        .sort(),
    })),
    residual: residualVariance(fit),
    isFullRank: aliased.length === 0,
  };
}

function judge(
  columns: readonly Column[],
  { kept, fit, values }: FactorFit,
  residual: Variance | null,
): Pick<TermEffect, 'degreesOfFreedom' | 'squares' | 'f' | 'p'> {
  const degreesOfFreedom = columns.length;
  if (degreesOfFreedom === 0) return { degreesOfFreedom, squares: 0, f: null, p: null };
  const without = leastSquares(
    kept.filter((column) => !columns.includes(column)),
    values,
  );
  const squares = Math.max(0, without.residualSquares - fit.residualSquares);
  if (residual === null || residual.value === 0) {
    return { degreesOfFreedom, squares, f: null, p: null };
  }
  const f = squares / degreesOfFreedom / residual.value;
  return {
    degreesOfFreedom,
    squares,
    f,
    p: fUpperTail(f, degreesOfFreedom, residual.degreesOfFreedom),
  };
}

function effectOf(
  columns: readonly Column[],
  { kept, fit }: FactorFit,
  residual: Variance | null,
): Pick<TermEffect, 'effect' | 'estimate'> {
  const [only, ...more] = columns;
  const at = only === undefined || more.length > 0 ? -1 : kept.indexOf(only);
  const coefficient = fit.coefficients[at];
  const unitError = fit.unitErrors[at];
  if (coefficient === undefined || unitError === undefined) return { effect: null, estimate: null };
  const effect = 2 * coefficient;
  if (residual === null || residual.value === 0) return { effect, estimate: null };
  const standardError = 2 * unitError * Math.sqrt(residual.value);
  const { degreesOfFreedom } = residual;
  return { effect, estimate: { value: effect, standardError, degreesOfFreedom } };
}

/** For each term the other terms that it hangs together with through aliases. */
function aliasPartners(aliased: readonly Alias[]): ReadonlyMap<string, ReadonlySet<string>> {
  let groups: ReadonlySet<string>[] = [];
  for (const { column, of } of aliased) {
    const names = new Set([column, ...of.map((part) => part.column)].map(termOfColumn));
    const touched = groups.filter((group) => [...group].some((name) => names.has(name)));
    const joined = new Set([...names, ...touched.flatMap((group) => [...group])]);
    groups = [...groups.filter((group) => !touched.includes(group)), joined];
  }
  return new Map(groups.flatMap((group) => [...group].map((name) => [name, group] as const)));
}
