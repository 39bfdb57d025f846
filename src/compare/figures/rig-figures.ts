import type { ComparedRig, SittingFigures } from '../../model/comparison-request.ts';
import type { PrecisionStudy } from '../../model/precision.ts';
import type { ReportMetric, ReportRun, RigFigures } from '../../model/report.ts';
import { findOutliers } from '../outliers.ts';
import { type Pool, poolSittings } from '../pool.ts';
import { gatherSeries, type Series, seriesKey, summarizeSeries } from '../series.ts';
import { indexStudies, type Study } from '../studies.ts';
import { ownInterval } from './own-interval.ts';
import type { RunFacts } from './run-facts.ts';

export interface FiguresRequest {
  /** With the sittings that take part, in order of time; the order of workloads is that of the first. */
  readonly rigs: readonly ComparedRig[];
  readonly studies: readonly PrecisionStudy[];
  readonly digest: string;
  readonly confidence: number;
  /** Id to title. */
  readonly titles: ReadonlyMap<string, string>;
  /** Of a sitting's repeats of a workload, in their order. */
  readonly facts: (sitting: string, workload: string) => readonly RunFacts[];
}

/** The absolute figures of every rig, one row for each workload and metric, with every single run. */
export function rigFigures(request: FiguresRequest): readonly ReportMetric[] {
  const { rigs, studies, digest, titles } = request;
  const kept = rigs.map((rig) => ({ rig, series: gatherSeries(rig.sittings, 'kept') }));
  const known = indexStudies(studies, digest);
  const first = new Map<string, string>();
  return metricsOf(rigs).map(({ workload, metric }) => {
    const key = seriesKey(workload, metric);
    const own = kept.flatMap(({ rig, series }) => {
      const found = series.get(key);
      return found === undefined ? [] : [{ rig, series: found }];
    });
    const all = own.map(({ series }) => series);
    const pool = poolSittings(all, 1 - request.confidence);
    const [{ unit, better } = { unit: '1', better: 'lower' as const }] = all;
    if (all.length > 0 && !first.has(workload)) first.set(workload, metric);
    const figures = own.map((one) =>
      figuresOf(one, { pool, studies: known.get(key) ?? [], request }),
    );
    const workloadTitle = titles.get(workload) ?? workload;
    const isInIndex = first.get(workload) === metric;
    return { workload, workloadTitle, metric, unit, better, isInIndex, rigs: figures };
  });
}

/** Each once, in the order of the suite; a rig may have some that others have not. */
function metricsOf(
  rigs: readonly ComparedRig[],
): readonly { readonly workload: string; readonly metric: string }[] {
  const found = new Map<string, { workload: string; metric: string }>();
  for (const { sittings } of rigs)
    for (const { workloads } of sittings)
      for (const { workload, metrics } of workloads)
        for (const { metric, values } of metrics)
          if (values.some((value) => value !== null))
            found.set(seriesKey(workload, metric), { workload, metric });
  return [...found.values()];
}

interface Known {
  readonly pool: Pool;
  readonly studies: readonly Study[];
  readonly request: FiguresRequest;
}

function figuresOf(
  { rig, series }: { readonly rig: ComparedRig; readonly series: Series },
  { pool, studies, request }: Known,
): RigFigures {
  const { mean, median, cv } = summarizeSeries(series);
  const { confidence } = request;
  const { basis, interval } = ownInterval(series, { rig: rig.label, pool, studies, confidence });
  return {
    rig: rig.label,
    mean,
    median,
    low: interval?.low ?? null,
    high: interval?.high ?? null,
    basis,
    cv,
    runs: runsOf(rig, series, request),
  };
}

/** Excluded ones too. */
function runsOf(rig: ComparedRig, series: Series, request: FiguresRequest): readonly ReportRun[] {
  const outliers = new Set(
    findOutliers(series, 1 - request.confidence).map(
      ({ sitting, repeat }) => `${series.places[sitting]} ${repeat}`,
    ),
  );
  return rig.sittings.flatMap((sitting, place) => {
    const facts = request.facts(sitting.id, series.workload);
    let counted = -1;
    return valuesOf(sitting, series).flatMap((value, at) => {
      const { excluded = null, marks = [] } = facts[at] ?? {};
      if (value === null || !Number.isFinite(value)) return [];
      if (excluded === null) counted += 1;
      const isOutlier = excluded === null && outliers.has(`${place} ${counted}`);
      const all = isOutlier ? ['outliers', ...marks] : marks;
      return [{ sitting: sitting.id, repeat: at + 1, value, excluded, marks: all }];
    });
  });
}

function valuesOf(
  { workloads }: SittingFigures,
  { workload, metric }: Series,
): readonly (number | null)[] {
  const own = workloads.find((one) => one.workload === workload);
  return own?.metrics.find((one) => one.metric === metric)?.values ?? [];
}
