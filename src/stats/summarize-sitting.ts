import type { Correction, RunRecord } from '../model/run.ts';
import { standingRuns } from '../model/standing-runs.ts';
import type { Metric, Suite, Workload } from '../model/suite.ts';
import type { SittingSummary, SummaryFlag, SummaryRow } from '../model/summary.ts';
import { natureOf } from '../model/unit.ts';
import { harmonicMean } from './harmonic-mean.ts';
import { mean } from './mean.ts';
import { harmonicMeanInterval, meanInterval } from './mean-interval.ts';
import { median } from './quantile.ts';
import { variation } from './variation.ts';

/** An interval wider than this share of the mean, each way, says little about a few per cent. Common practice, no source. */
const wideHalfWidth = 0.1;

/**
 * The figures of one sitting, from the runs that count (see `standingRuns`): measured repeats only, warm-ups left out, failed
 * runs counted. A metric without any good
 * run has no row. Repeats of one sitting share boot, memory layout and assembly: the interval speaks of this sitting,
 * not of the rig.
 */
export function summarizeSitting(
  suite: Suite,
  runs: readonly RunRecord[],
  corrections: readonly Correction[] = [],
): SittingSummary {
  const repeats = standingRuns(runs, corrections).filter((run) => run.phase === 'repeat');
  const byWorkload = group(repeats);
  return {
    workloads: suite.workloads.map((workload) => {
      const own = byWorkload.get(workload.id) ?? [];
      const failed = own.filter((run) => run.outcome === 'failed').length;
      return { workload: workload.id, title: workload.title, ok: own.length - failed, failed };
    }),
    rows: suite.workloads.flatMap((workload) =>
      workload.metrics.flatMap((metric) => {
        const row = summarizeMetric(suite, workload, metric, byWorkload.get(workload.id) ?? []);
        return row === null ? [] : [row];
      }),
    ),
  };
}

function group(runs: readonly RunRecord[]): ReadonlyMap<string, readonly RunRecord[]> {
  const groups = new Map<string, RunRecord[]>();
  for (const run of runs) {
    const found = groups.get(run.workload);
    if (found === undefined) groups.set(run.workload, [run]);
    else found.push(run);
  }
  return groups;
}

function summarizeMetric(
  suite: Suite,
  workload: Workload,
  metric: Metric,
  runs: readonly RunRecord[],
): SummaryRow | null {
  const found = runs.flatMap((run) => run.metrics.filter(({ id }) => id === metric.id));
  const values = found.map(({ value }) => value);
  const nature = natureOf(metric.unit, metric.better);
  // A rate of zero has no harmonic mean; the arithmetic one still tells the reader something.
  const harmonic = nature === 'rate' ? harmonicMean(values) : null;
  const centre = harmonic?.ok === true ? harmonic : mean(values);
  const middle = median(values);
  if (!centre.ok || !middle.ok) return null;
  const interval = harmonic?.ok === true ? harmonicMeanInterval(values) : meanInterval(values);
  const spread = variation(values);
  const row = {
    workload: workload.id,
    metric: metric.id,
    unit: metric.unit,
    better: metric.better,
    nature,
    values,
    mean: centre.value,
    meanKind: harmonic?.ok === true ? ('harmonic' as const) : ('arithmetic' as const),
    median: middle.value,
    interval: interval.ok ? interval.value : null,
    variation: spread.ok ? spread.value : null,
    min: Math.min(...values),
    max: Math.max(...values),
  };
  const bounded = found.some(({ bound }) => bound === 'below');
  return { ...row, flags: flagsOf(row, suite, runs, bounded) };
}

function flagsOf(
  row: Omit<SummaryRow, 'flags'>,
  suite: Suite,
  runs: readonly RunRecord[],
  bounded: boolean,
): SummaryFlag[] {
  const flags: SummaryFlag[] = [];
  if (row.values.length === 1) flags.push('one-value');
  if (isWide(row)) flags.push('wide-interval');
  if (bounded) flags.push('bound');
  if (runs.some((run) => run.outcome === 'failed')) flags.push('failed-runs');
  if (suite.repeats.kind === 'adaptive') flags.push('adaptive');
  return flags;
}

function isWide(row: Omit<SummaryRow, 'flags'>): boolean {
  if (row.values.length < 2) return false;
  if (row.interval === null) return true;
  return (row.interval.high - row.interval.low) / 2 > wideHalfWidth * Math.abs(row.mean);
}
