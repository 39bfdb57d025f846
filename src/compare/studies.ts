import type { Result } from '../lib/result.ts';
import type { PrecisionRow, PrecisionStudy } from '../model/precision.ts';
import type { StatsFailure } from '../stats/failure.ts';
import type { Variance } from '../stats/pooled-variance.ts';
import { satterthwaite, type VarianceTerm } from '../stats/satterthwaite.ts';
import { rowVariance } from './row-variance.ts';
import { type Series, seriesKey } from './series.ts';

export interface Study {
  readonly rig: string;
  readonly row: PrecisionRow;
}

/** What covers a workload and metric, the latest study first. */
export type Studies = ReadonlyMap<string, readonly Study[]>;

/** Studies of this suite by `seriesKey`. */
export function indexStudies(studies: readonly PrecisionStudy[], digest: string): Studies {
  const found = new Map<string, Study[]>();
  const latestFirst = studies
    .filter((study) => study.digest === digest)
    .toSorted((a, b) => Date.parse(b.at) - Date.parse(a.at));
  for (const { rig, rows } of latestFirst) {
    for (const row of rows) {
      const key = seriesKey(row.workload, row.metric);
      const own = found.get(key);
      if (own === undefined) found.set(key, [{ rig, row }]);
      else own.push({ rig, row });
    }
  }
  return found;
}

/** The study that speaks for a side: of its own rig, else of the other one, else the latest of any. */
export function studyFor(studies: readonly Study[], rig: string, other: string): Study | null {
  const of = (label: string): Study | undefined => studies.find((study) => study.rig === label);
  return of(rig) ?? of(other) ?? studies[0] ?? null;
}

/**
 * Variance of the difference of two sides, each the mean of its k sitting means of n(j) repeats: s_b²/k + Σ(s_r²/n(j))/k² a
 * side. One study for both sides enters once, as its variance of a sitting of so many repeats (a harmonic mean), so that its
 * degrees of freedom are not counted twice; two studies are independent and added by Satterthwaite's rule.
 */
export function studiedDifference(
  sides: readonly { readonly series: Series; readonly study: Study }[],
): Result<Variance, StatsFailure> {
  const shares = new Map<PrecisionRow, { sittings: number; repeats: number }>();
  for (const { series, study } of sides) {
    const own = shares.get(study.row) ?? { sittings: 0, repeats: 0 };
    const count = series.sittings.length;
    const within = series.sittings.reduce((sum, { length }) => sum + 1 / length, 0) / count ** 2;
    shares.set(study.row, {
      sittings: own.sittings + 1 / count,
      repeats: own.repeats + within,
    });
  }
  const terms: VarianceTerm[] = [];
  for (const [row, { sittings, repeats }] of shares) {
    const variance = rowVariance(row, sittings / repeats);
    if (!variance.ok) return variance;
    terms.push({ ...variance.value, factor: sittings });
  }
  return satterthwaite(terms);
}
