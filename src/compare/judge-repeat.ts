import { err, ok, type Result } from '../lib/result.ts';
import type { MetricFigures, SittingFigures } from '../model/comparison-request.ts';
import type { PrecisionRow, PrecisionStudy } from '../model/precision.ts';
import type { RepeatJudgement, RepeatRow, RepeatVerdict } from '../model/repeat-judgement.ts';
import { natureOf } from '../model/unit.ts';
import type { Variance } from '../stats/pooled-variance.ts';
import { logSittingMeans } from '../stats/sitting-means.ts';
import { standardDeviation } from '../stats/standard-deviation.ts';
import { tQuantile } from '../stats/t-quantile.ts';
import { rowVariance } from './row-variance.ts';
import { seriesKey } from './series.ts';
import { indexStudies, studyFor } from './studies.ts';

/** Sittings of one rig and one suite. */
export interface RepeatRequest {
  readonly workload: string;
  /** The one whose result was odd. */
  readonly earlier: SittingFigures;
  /** The one that repeats it. */
  readonly later: SittingFigures;
  /** All others of the rig, in any order; those without the workload say nothing. */
  readonly others: readonly SittingFigures[];
  readonly studies: readonly PrecisionStudy[];
}

/**
 * Whether an odd result came back. Two sitting means are alike where their ratio lies within what sittings of an unchanged rig vary by in
 * 19 of 20 cases, t √(variance of the difference): the critical difference of ISO 5725-6 under intermediate precision, with
 * Student's t since the spread is estimated. The spread is that of a precision study, else of the other sittings' means.
 */
export function judgeRepeat(request: RepeatRequest): RepeatJudgement {
  const { workload, earlier, later, others } = request;
  const metrics = figuresOf(later, workload);
  return {
    workload,
    earlier: earlier.id,
    later: later.id,
    others: others.filter((one) => figuresOf(one, workload).some(hasValue)).map(({ id }) => id),
    rows: metrics.map((metric) => judgeMetric(request, metric)),
  };
}

function figuresOf({ workloads }: SittingFigures, id: string): readonly MetricFigures[] {
  return workloads.find(({ workload }) => workload === id)?.metrics ?? [];
}

function hasValue({ values }: MetricFigures): boolean {
  return values.some((value) => value !== null);
}

/** The repeats of one sitting with the log of their mean. */
interface Mean {
  readonly log: number;
  readonly repeats: number;
}

function judgeMetric(request: RepeatRequest, metric: MetricFigures): RepeatRow {
  const { workload, later, earlier } = request;
  const meanIn = (sitting: SittingFigures): Mean | null => meanOf(sitting, workload, metric);
  const [first, second] = [meanIn(earlier), meanIn(later)];
  const others = request.others.flatMap((one) => meanIn(one) ?? []);
  const othersLog = others.length === 0 ? null : average(others.map(({ log }) => log));
  const row = {
    ...{ metric: metric.metric, unit: metric.unit, better: metric.better },
    earlierMean: first && Math.exp(first.log),
    laterMean: second && Math.exp(second.log),
    othersMean: othersLog === null ? null : Math.exp(othersLog),
    ratio: first && second && Math.exp(second.log - first.log),
  };
  if (first === null || second === null) {
    return cannotTell(row, 'both sittings need good repeats with figures above zero');
  }
  const spread = spreadOf(request, metric, others);
  if (!spread.ok) return cannotTell(row, spread.error);
  const { basis, row: study, between } = spread.value;
  const limitOf = (one: readonly Mean[], other: readonly Mean[]): number | null =>
    limit(study === null ? between : studied(study, one, other), one, other);
  const alike = limitOf([first], [second]);
  if (alike === null) return cannotTell(row, 'sittings that do not vary at all tell nothing');
  const agrees = (one: Mean): boolean | null => {
    const reach = othersLog === null ? null : limitOf([one], others);
    return reach === null || othersLog === null ? null : Math.abs(one.log - othersLog) <= reach;
  };
  const cameBack = Math.abs(second.log - first.log) <= alike;
  const verdict = verdictOf(cameBack, agrees(first), agrees(second));
  return { ...row, limit: Math.exp(alike), basis, verdict, needs: null };
}

function verdictOf(
  cameBack: boolean,
  earlierAgrees: boolean | null,
  laterAgrees: boolean | null,
): RepeatVerdict {
  if (!cameBack) return laterAgrees === false ? 'neither' : 'gone';
  if (earlierAgrees === true) return 'not-odd';
  return earlierAgrees === false && laterAgrees === true ? 'between' : 'came-back';
}

type Told = Omit<RepeatRow, 'limit' | 'basis' | 'verdict' | 'needs'>;

function cannotTell(row: Told, needs: string): RepeatRow {
  return { ...row, limit: null, basis: null, verdict: 'cannot-tell', needs };
}

function meanOf(
  sitting: SittingFigures,
  workload: string,
  { metric, unit, better }: MetricFigures,
): Mean | null {
  const own = sitting.workloads.find((one) => one.workload === workload);
  const figures = own?.metrics.find((one) => one.metric === metric && one.unit === unit);
  const values = (figures?.values ?? []).flatMap((value, at) =>
    value === null || own?.excluded.includes(at) ? [] : [value],
  );
  if (values.length === 0) return null;
  const logs = logSittingMeans([values], natureOf(unit, better));
  const [log] = logs.ok ? logs.value : [];
  return log === undefined ? null : { log, repeats: values.length };
}

interface Spread {
  readonly basis: 'precision-study' | 'other-sittings';
  readonly row: PrecisionRow | null;
  /** Of one sitting mean; looked at where there is no study. */
  readonly between: Variance;
}

function spreadOf(
  { workload, later, studies }: RepeatRequest,
  { metric }: MetricFigures,
  others: readonly Mean[],
): Result<Spread, string> {
  const found = indexStudies(studies, later.suite.digest).get(seriesKey(workload, metric)) ?? [];
  const study = studyFor(found, later.rig, later.rig);
  const none = { value: 0, degreesOfFreedom: 0 };
  if (study !== null) return ok({ basis: 'precision-study', row: study.row, between: none });
  const spread = others.length < 2 ? null : standardDeviation(others.map(({ log }) => log));
  if (spread?.ok !== true) {
    return err(
      `two or more other sittings of ${later.rig} with this suite, of which there are ${others.length}, or a precision study`,
    );
  }
  const between = { value: spread.value ** 2, degreesOfFreedom: others.length - 1 };
  return ok({ basis: 'other-sittings', row: null, between });
}

/** Variance of a sitting mean with as many repeats as those of the two sides have, a harmonic mean: see `studiedDifference`. */
function studied(row: PrecisionRow, one: readonly Mean[], other: readonly Mean[]): Variance | null {
  const within = [one, other].reduce(
    (sum, side) => sum + side.reduce((own, { repeats }) => own + 1 / repeats, 0) / side.length ** 2,
    0,
  );
  const variance = rowVariance(row, shareOf(one, other) / within);
  return variance.ok ? variance.value : null;
}

function shareOf(one: readonly Mean[], other: readonly Mean[]): number {
  return 1 / one.length + 1 / other.length;
}

/** Logs of two means that differ by no more are alike; null where nothing varies. */
function limit(
  variance: Variance | null,
  one: readonly Mean[],
  other: readonly Mean[],
): number | null {
  if (variance === null || !(variance.value > 0)) return null;
  const { value, degreesOfFreedom } = variance;
  return tQuantile(0.975, degreesOfFreedom) * Math.sqrt(value * shareOf(one, other));
}

function average(logs: readonly number[]): number {
  return logs.reduce((sum, log) => sum + log, 0) / logs.length;
}
