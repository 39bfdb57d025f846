import type { ComparisonFlag, ComparisonRow, Needs, Verdict } from '../model/comparison.ts';
import { estimateInterval } from '../stats/estimate.ts';
import type { Assessed, Assessment } from './assess.ts';
import { mostRepeats, mostSittings, sizeFinder } from './needs.ts';
import { type Series, summarizeSeries } from './series.ts';
import { isWithin, type Levels, verdictOf } from './verdict.ts';

export interface RowOptions {
  readonly confidence: number;
  readonly matters: number;
}

/** The rows as they are told: interval, verdict, what would settle them, flags. */
export function finishRows(
  assessment: Assessment,
  { confidence, matters }: RowOptions,
): readonly ComparisonRow[] {
  const levels: Levels = { alpha: 1 - confidence, matters };
  const judged = assessment.candidates.flatMap(({ side, rows }) =>
    rows.map((row) => ({ candidate: side.label, row, verdict: judge(row, levels) })),
  );
  // Rows that Holm's procedure has rejected leave the level to the others.
  const open = judged.filter(({ row }) => row.p !== null && (row.adjustedP ?? 1) >= levels.alpha);
  const find = sizeFinder(levels.alpha / Math.max(1, open.length));
  const summaries = new Map<Series, ReturnType<typeof summarizeSeries>>();
  const summary = (series: Series): ReturnType<typeof summarizeSeries> => {
    const known = summaries.get(series) ?? summarizeSeries(series);
    summaries.set(series, known);
    return known;
  };
  return judged.map(({ candidate, row, verdict }) => ({
    workload: row.baseline.workload,
    metric: row.baseline.metric,
    unit: row.baseline.unit,
    better: row.baseline.better,
    candidate,
    baselineSummary: summary(row.baseline),
    candidateSummary: summary(row.candidate),
    ratio: row.log === null ? null : Math.exp(row.log),
    ...interval(row, confidence),
    p: row.p,
    adjustedP: row.adjustedP,
    df: row.estimate?.degreesOfFreedom ?? null,
    basis: row.basis,
    verdict,
    needs: verdict === 'undecided' ? needsOf(row, levels, find) : null,
    withExcluded: null,
    flags: flagsOf(row, verdict, levels),
  }));
}

function judge({ estimate, adjustedP }: Assessed, levels: Levels): Verdict {
  return estimate === null || adjustedP === null
    ? 'undecided'
    : verdictOf(estimate, adjustedP, levels);
}

function interval(
  { estimate }: Assessed,
  confidence: number,
): { readonly low: number | null; readonly high: number | null } {
  const logs = estimate === null ? null : estimateInterval(estimate, confidence);
  if (logs?.ok !== true) return { low: null, high: null };
  return { low: Math.exp(logs.value.low), high: Math.exp(logs.value.high) };
}

function needsOf(
  { basis, estimate, spread, baseline, candidate }: Assessed,
  { matters }: Levels,
  find: ReturnType<typeof sizeFinder>,
): Needs | null {
  if (estimate === null || spread === null) return null;
  const effect = Math.max(Math.abs(estimate.value), Math.log1p(matters));
  if (basis === 'repeats-only') {
    return { sittings: 1, repeats: find(effect, spread, mostRepeats) };
  }
  const repeats = [...baseline.sittings, ...candidate.sittings].map(({ length }) => length);
  return { sittings: find(effect, spread, mostSittings), repeats: Math.max(...repeats) };
}

function flagsOf(row: Assessed, verdict: Verdict, levels: Levels): readonly ComparisonFlag[] {
  const flags: ComparisonFlag[] = [];
  if (row.basis === 'repeats-only') flags.push('repeats-only');
  if (row.obstacle !== null) flags.push(row.obstacle);
  if (row.pool.unequal) flags.push('unequal-variance');
  if (row.baseline.bounded || row.candidate.bounded) flags.push('bound');
  const differs = verdict === 'better' || verdict === 'worse';
  if (differs && row.estimate !== null && isWithin(row.estimate, levels)) {
    flags.push('too-small-to-matter');
  }
  return flags;
}
