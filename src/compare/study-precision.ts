import { err, ok, type Result } from '../lib/result.ts';
import type { PrecisionRow, UntoldPrecision } from '../model/precision.ts';
import type { MetricValue, RunRecord } from '../model/run.ts';
import type { Metric, Suite, Workload } from '../model/suite.ts';
import { oneWayComponents } from '../stats/one-way-components.ts';
import { detectableEffect } from '../stats/power-t.ts';
import { precisionOf } from '../stats/sitting-precision.ts';
import { standardDeviation } from '../stats/standard-deviation.ts';
import { rowVariance } from './row-variance.ts';

/** Below this many sittings nothing is said about the spread between them. */
export const leastStudySittings = 3;

export interface StudyFigures {
  /** In the order of the suite. */
  readonly rows: readonly PrecisionRow[];
  readonly untold: readonly UntoldPrecision[];
}

/**
 * The precision of every workload and metric from sittings of one unchanged rig (ISO 5725-3), each given by the runs that
 * count: corrections applied, excluded ones left out. Warm-ups and failed runs are left out here. Standard deviations are
 * those of natural logarithms; sittings may have unequal numbers of repeats. What has fewer than three sittings with figures, values that
 * have no logarithm, or upper bounds in place of values, is told in `untold`.
 */
export function studyPrecision(
  { workloads }: Pick<Suite, 'workloads'>,
  sittings: readonly (readonly RunRecord[])[],
): StudyFigures {
  const rows: PrecisionRow[] = [];
  const untold: UntoldPrecision[] = [];
  const figures = sittings.map(figuresOf);
  for (const workload of workloads) {
    for (const metric of workload.metrics) {
      const key = figureKey(workload.id, metric.id);
      const groups = figures.map((own) => own.get(key) ?? []).filter(({ length }) => length > 0);
      const row = metricPrecision(workload, metric, groups);
      if (row.ok) rows.push(row.value);
      else untold.push({ workload: workload.id, metric: metric.id, reason: row.error });
    }
  }
  return { rows, untold };
}

type Figures = readonly MetricValue[];

/** Of good measured repeats, by workload and metric. */
function figuresOf(runs: readonly RunRecord[]): ReadonlyMap<string, Figures> {
  const found = new Map<string, MetricValue[]>();
  for (const { phase, outcome, workload, metrics } of runs) {
    if (phase !== 'repeat' || outcome !== 'ok') continue;
    for (const metric of metrics) {
      const key = figureKey(workload, metric.id);
      const own = found.get(key);
      if (own === undefined) found.set(key, [metric]);
      else own.push(metric);
    }
  }
  return found;
}

function figureKey(workload: string, metric: string): string {
  return `${workload} ${metric}`;
}

function metricPrecision(
  workload: Workload,
  { id: metric, unit, better }: Metric,
  groups: readonly Figures[],
): Result<PrecisionRow, string> {
  const values = groups.flat();
  const fault = faultOf(groups.length, values);
  if (fault !== null) return err(fault);
  const logs = groups.map((group) => group.map(({ value }) => Math.log(value)));
  const spreads = spreadsOf(logs);
  if (!spreads.ok) return spreads;
  const effect = detectable(spreads.value);
  return ok({
    ...{ workload: workload.id, metric, unit, better },
    ...{ sittings: groups.length, runs: values.length },
    ...spreads.value,
    detectable: effect,
  });
}

function faultOf(sittings: number, values: Figures): string | null {
  if (sittings < leastStudySittings) {
    const found =
      sittings === 0 ? 'no sitting has' : `${sittings} of them ${sittings === 1 ? 'has' : 'have'}`;
    return `needs figures in ${leastStudySittings} or more sittings, ${found}`;
  }
  if (values.some(({ bound }) => bound !== undefined)) {
    return 'some runs gave only an upper bound, whose spread says nothing';
  }
  const odd = values.find(({ value }) => !(value > 0));
  if (odd === undefined) return null;
  return `needs figures above zero, since ratios are compared; found ${odd.value}`;
}

type Spreads = Omit<
  PrecisionRow,
  'workload' | 'metric' | 'unit' | 'better' | 'sittings' | 'runs' | 'detectable'
>;

function spreadsOf(logs: readonly (readonly number[])[]): Result<Spreads, string> {
  if (logs.every(({ length }) => length === 1)) return singleRuns(logs.flat());
  const study = oneWayComponents(logs);
  if (!study.ok) return err(study.error.message);
  const { repeatability, betweenSittings, intermediate, repeatabilityLimit } = precisionOf(
    study.value,
  );
  return ok({
    sr: repeatability,
    srDf: study.value.within.degreesOfFreedom,
    sb: betweenSittings,
    sbDf: study.value.between.degreesOfFreedom,
    effectiveRepeats: study.value.effectiveSize,
    si: intermediate,
    repeatabilityLimit,
  });
}

/** One run a sitting: what it varies by within a sitting and between them cannot be told apart. */
function singleRuns(logs: readonly number[]): Result<Spreads, string> {
  const spread = standardDeviation(logs);
  if (!spread.ok) return err(spread.error.message);
  return ok({
    ...{ sr: null, srDf: 0, sb: spread.value, sbDf: logs.length - 1 },
    ...{ effectiveRepeats: 1, si: spread.value, repeatabilityLimit: null },
  });
}

/** A difference of two sittings like those of the study has twice the variance of one. */
function detectable(spreads: Spreads): number | null {
  const variance = rowVariance(spreads, spreads.effectiveRepeats);
  if (!variance.ok) return null;
  const { value, degreesOfFreedom } = variance.value;
  const errors = detectableErrors(Number(degreesOfFreedom.toPrecision(12)));
  return errors === null ? null : Math.expm1(errors * Math.sqrt(2 * value));
}

/** By degrees of freedom, which the rows of a study share: what is found, in standard errors. Milliseconds each to compute. */
const known = new Map<number, number | null>();
/** No more than these are kept. */
const mostKnown = 1024;

function detectableErrors(degreesOfFreedom: number): number | null {
  const before = known.get(degreesOfFreedom);
  if (before !== undefined) return before;
  const found = detectableEffect({ standardError: 1, degreesOfFreedom });
  const errors = found.ok ? found.value : null;
  if (known.size >= mostKnown) known.clear();
  known.set(degreesOfFreedom, errors);
  return errors;
}
