import type { SideSummary } from '../model/comparison.ts';
import type {
  MetricFigures,
  SittingFigures,
  WorkloadFigures,
} from '../model/comparison-request.ts';
import { type Direction, type MetricNature, natureOf, type UnitCode } from '../model/unit.ts';
import { harmonicMean } from '../stats/harmonic-mean.ts';
import { mean } from '../stats/mean.ts';
import { median } from '../stats/quantile.ts';
import { logSittingMeans } from '../stats/sitting-means.ts';
import { variation } from '../stats/variation.ts';

/** Whether the runs that the operator left out are left out, or counted to see what they decide. */
export type Runs = 'kept' | 'all';

/** The figures of one metric on one side. */
export interface Series {
  readonly workload: string;
  readonly metric: string;
  readonly unit: UnitCode;
  readonly better: Direction;
  readonly nature: MetricNature;
  /** Repeats of each sitting that has any, in order of time. */
  readonly sittings: readonly (readonly number[])[];
  /** Where each of these stands among the sittings of the side. */
  readonly places: readonly number[];
  /** Log of each sitting's mean; null where a value is zero or below. */
  readonly logs: readonly number[] | null;
  readonly bounded: boolean;
  /** What was run, one text for each way: parameters, and versions of the programs started. */
  readonly ways: Ways;
}

export interface Ways {
  readonly scales: ReadonlySet<string>;
  readonly programs: ReadonlySet<string>;
}

export function seriesKey(workload: string, metric: string): string {
  return `${workload}\n${metric}`;
}

/** Every metric of a side that has a value, by `seriesKey`, in the order of the suite. */
export function gatherSeries(
  sittings: readonly SittingFigures[],
  runs: Runs,
): ReadonlyMap<string, Series> {
  const growing = new Map<string, Growing>();
  for (const [place, sitting] of sittings.entries()) {
    const versions = new Map(sitting.programs.map((program) => [program.name, program]));
    for (const workload of sitting.workloads) {
      const way = { scale: scaleText(workload), programs: programsText(workload, versions) };
      for (const metric of workload.metrics) {
        const values = valuesOf(workload, metric, runs);
        if (values.length > 0) grow(growing, { place, workload, metric, values, way });
      }
    }
  }
  return new Map([...growing].map(([key, found]) => [key, finished(found)]));
}

/** In the units of the figures; at least one value. */
export function summarizeSeries({ sittings, nature }: Series): SideSummary {
  const values = sittings.flat();
  const harmonic = nature === 'rate' ? harmonicMean(values) : null;
  const centre = harmonic?.ok === true ? harmonic : mean(values);
  const middle = median(values);
  const spread = variation(values);
  if (!centre.ok || !middle.ok) throw new Error('internal error: a series without finite values');
  return {
    sittings: sittings.length,
    runs: values.length,
    mean: centre.value,
    median: middle.value,
    cv: spread.ok ? spread.value : null,
  };
}

interface Growing {
  readonly workload: string;
  readonly figures: MetricFigures;
  readonly sittings: (readonly number[])[];
  readonly places: number[];
  readonly scales: Set<string>;
  readonly programs: Set<string>;
  bounded: boolean;
}

interface Found {
  readonly place: number;
  readonly workload: WorkloadFigures;
  readonly metric: MetricFigures;
  readonly values: readonly number[];
  readonly way: { readonly scale: string; readonly programs: string };
}

function grow(growing: Map<string, Growing>, found: Found): void {
  const { place, workload, metric, values, way } = found;
  const key = seriesKey(workload.workload, metric.metric);
  let own = growing.get(key);
  if (own === undefined) {
    own = {
      workload: workload.workload,
      figures: metric,
      sittings: [],
      places: [],
      scales: new Set(),
      programs: new Set(),
      bounded: false,
    };
    growing.set(key, own);
  }
  own.sittings.push(values);
  own.places.push(place);
  own.scales.add(`${metric.unit}, ${metric.better} is better${way.scale}`);
  own.programs.add(way.programs);
  own.bounded ||= metric.bounded;
}

function finished({ workload, figures, sittings, places, bounded, ...ways }: Growing): Series {
  const { metric, unit, better } = figures;
  const nature = natureOf(unit, better);
  const logs = logSittingMeans(sittings, nature);
  return {
    workload,
    metric,
    unit,
    better,
    nature,
    sittings,
    places,
    logs: logs.ok ? logs.value : null,
    bounded,
    ways,
  };
}

function valuesOf(
  { excluded }: WorkloadFigures,
  { values }: MetricFigures,
  runs: Runs,
): readonly number[] {
  const left = runs === 'kept' && excluded.length > 0 ? new Set(excluded) : null;
  const whole = left === null && values.every((value) => value !== null && Number.isFinite(value));
  if (whole) return values as readonly number[];
  return values.filter(
    (value, at): value is number =>
      value !== null && Number.isFinite(value) && left?.has(at) !== true,
  );
}

function scaleText({ parameters }: WorkloadFigures): string {
  if (parameters === null) return '';
  const parts = Object.entries(parameters).map(([name, value]) => `${name} ${value}`);
  return parts.length === 0 ? '' : `, ${parts.sort().join(', ')}`;
}

type Versions = ReadonlyMap<string, SittingFigures['programs'][number]>;

function programsText({ programs }: WorkloadFigures, versions: Versions): string {
  return programs
    .map((name) => {
      const found = versions.get(name);
      if (found === undefined) return name;
      return `${name} ${found.version ?? `of checksum ${found.sha256.slice(0, 12)}`}`;
    })
    .join(', ');
}
