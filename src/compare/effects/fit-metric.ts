import type { EffectBasis } from '../../model/effects.ts';
import { type FactorFit, fitFactors } from '../../stats/fit-factors.ts';
import { residualVariance } from '../../stats/least-squares.ts';
import { pooledVariance, type Variance } from '../../stats/pooled-variance.ts';
import { rowVariance } from '../row-variance.ts';
import type { Series } from '../series.ts';
import { type Study, studyFor } from '../studies.ts';

export interface RigSeries {
  readonly label: string;
  readonly levels: Readonly<Record<string, string>>;
  readonly series: Series;
}

export interface MetricFit {
  readonly fitted: FactorFit;
  readonly variance: Variance | null;
  readonly basis: EffectBasis;
}

export interface FitOptions {
  readonly factors: readonly { readonly name: string; readonly levels: readonly string[] }[];
  readonly terms: readonly (readonly string[])[];
  /** Interactions beyond the terms exist, and are taken to be nothing. */
  readonly leavesOut: boolean;
  readonly studies: readonly Study[];
}

/** One value a sitting, oriented so that above is better. Null where a figure is zero or below, or too few are there. */
export function fitMetric(rigs: readonly RigSeries[], options: FitOptions): MetricFit | null {
  if (rigs.some(({ series }) => series.logs === null)) return null;
  const runs = rigs.flatMap(({ levels, series }) => {
    const sign = series.better === 'higher' ? 1 : -1;
    return (series.logs ?? []).map((log) => ({ levels, value: sign * log }));
  });
  const fitted = fitFactors(options.factors, runs, options.terms);
  if (!fitted.ok) return null;
  return { fitted: fitted.value, ...varianceOf(rigs, fitted.value, options) };
}

/** Repeated sittings, or a study where that has more degrees of freedom and some rig has a single one; else what was left out. */
function varianceOf(
  rigs: readonly RigSeries[],
  fitted: FactorFit,
  { leavesOut, studies }: FitOptions,
): Pick<MetricFit, 'variance' | 'basis'> {
  const pooled = pooledVariance(rigs.map(({ series }) => series.logs ?? []));
  const repeated = pooled.ok ? pooled.value : null;
  const isRepeated = rigs.every(({ series }) => series.sittings.length >= 2);
  const studied = isRepeated ? null : studiedVariance(rigs, studies);
  if ((studied?.degreesOfFreedom ?? 0) > (repeated?.degreesOfFreedom ?? 0)) {
    return { variance: studied, basis: 'precision-study' };
  }
  if (repeated !== null) return { variance: sound(repeated), basis: 'sittings' };
  const rest = leavesOut ? residualVariance(fitted.fit) : null;
  if (rest !== null) return { variance: sound(rest), basis: 'left-out' };
  return { variance: null, basis: 'none' };
}

function sound(variance: Variance): Variance | null {
  return variance.value > 0 ? variance : null;
}

/** Of a sitting's mean, for the harmonic mean of the numbers of repeats. */
function studiedVariance(rigs: readonly RigSeries[], studies: readonly Study[]): Variance | null {
  const [first, second] = rigs;
  const study = studyFor(studies, first?.label ?? '', second?.label ?? '');
  const repeats = rigs.flatMap(({ series }) => series.sittings.map(({ length }) => length));
  if (study === null) return null;
  const harmonic = repeats.length / repeats.reduce((sum, count) => sum + 1 / count, 0);
  const found = rowVariance(study.row, harmonic);
  return found.ok ? found.value : null;
}

/** All products of up to `order` factors, main effects first, and of these as many as a design can hold apart. */
export function effectTerms(
  names: readonly string[],
  order: number,
): readonly (readonly string[])[] {
  let last: readonly (readonly string[])[] = names.map((name) => [name]);
  const terms = [...last];
  for (let size = 2; size <= Math.min(order, names.length); size += 1) {
    last = last.flatMap((term) =>
      names.slice(names.indexOf(term.at(-1) ?? '') + 1).map((name) => [...term, name]),
    );
    terms.push(...last);
  }
  return terms;
}
