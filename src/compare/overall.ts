import type { ComparisonFlag, OverallRow } from '../model/comparison.ts';
import { averageEstimate } from '../stats/average-estimate.ts';
import { type Estimate, ratioInterval } from '../stats/estimate.ts';
import { pooledVariance } from '../stats/pooled-variance.ts';
import { differenceWith, meanDifference } from '../stats/two-sample-t.ts';
import type { Assessed } from './assess.ts';
import { baselineDrift, sittingsBefore } from './drift.ts';
import type { SideSeries } from './match.ts';
import { spreadUnlike } from './pool.ts';

export interface OverallOptions {
  readonly confidence: number;
  readonly weights: Readonly<Record<string, number>> | null;
}

/** The two sides of an index, and their rows in the order of the suite. */
export interface IndexSides {
  readonly baseline: SideSeries;
  readonly candidate: SideSeries;
  readonly rows: readonly Assessed[];
}

/**
 * Geometric mean of the ratios, weighted; of each workload the first metric that has a ratio. Its interval: where all rest on
 * sittings that have every workload, the index of each sitting is a value of its own, so it counts that workloads of one
 * sitting move together. Of repeats only, rows are independent (of these two sittings). Else they are taken to move
 * together fully, which is the widest that can be.
 */
export function overallRow(sides: IndexSides, options: OverallOptions): OverallRow {
  const parts = indexParts(sides.rows, options.weights);
  const total = parts.reduce((sum, { weight }) => sum + weight, 0);
  const label = sides.candidate.label;
  if (total === 0) {
    const nothing = { ratio: null, low: null, high: null };
    return { candidate: label, ...nothing, workloads: 0, without: [], flags: [] };
  }
  const sum = parts.reduce((logs, { weight, log }) => logs + weight * log, 0);
  const estimate = indexEstimate(sides, parts, total, 1 - options.confidence);
  const interval = estimate === null ? null : ratioInterval(estimate, options.confidence);
  const index = {
    ratio: Math.exp(sum / total),
    low: interval?.ok === true ? interval.value.low : null,
    high: interval?.ok === true ? interval.value.high : null,
  };
  return {
    candidate: label,
    ...index,
    workloads: parts.length,
    without: parts.flatMap(({ weight, log, row }) =>
      total - weight > 0
        ? [
            {
              workload: row.baseline.workload,
              ratio: Math.exp((sum - weight * log) / (total - weight)),
            },
          ]
        : [],
    ),
    flags: indexFlags(sides, parts, index),
  };
}

function indexFlags(
  sides: IndexSides,
  parts: readonly Part[],
  { ratio, low, high }: Pick<OverallRow, 'low' | 'high'> & { readonly ratio: number },
): readonly ComparisonFlag[] {
  const flags: ComparisonFlag[] = [];
  if (parts.some(({ row }) => row.basis === 'repeats-only')) flags.push('repeats-only');
  const isShown = (low !== null && low > 1) || (high !== null && high < 1);
  const drift = isShown ? indexDrift(sides, parts) : null;
  if (drift !== null && Math.abs(drift) > Math.abs(Math.log(ratio))) flags.push('baseline-drift');
  return flags;
}

/** By how much the baseline's own index moved, of the workloads that tell; null where none does. */
function indexDrift({ baseline, candidate }: IndexSides, parts: readonly Part[]): number | null {
  const before = sittingsBefore(baseline, candidate);
  const drifts = parts.flatMap(({ row, weight }) => {
    const drift = baselineDrift(row.baseline, before);
    return drift === null ? [] : [{ weight, log: orientation(row.baseline) * drift }];
  });
  const total = drifts.reduce((sum, { weight }) => sum + weight, 0);
  return total === 0
    ? null
    : drifts.reduce((sum, { weight, log }) => sum + weight * log, 0) / total;
}

interface Part {
  readonly row: Assessed;
  readonly log: number;
  readonly weight: number;
}

function indexParts(rows: readonly Assessed[], weights: OverallOptions['weights']): Part[] {
  const seen = new Set<string>();
  const parts: Part[] = [];
  for (const row of rows) {
    const { workload } = row.baseline;
    const weight =
      weights !== null && Object.hasOwn(weights, workload) ? (weights[workload] ?? 1) : 1;
    if (row.log === null || weight === 0 || seen.has(workload)) continue;
    seen.add(workload);
    parts.push({ row, log: row.log, weight });
  }
  return parts;
}

function indexEstimate(
  sides: IndexSides,
  parts: readonly Part[],
  total: number,
  alpha: number,
): Estimate | null {
  if (parts.every(({ row }) => row.basis === 'sittings')) {
    const bySitting = sittingIndexEstimate(sides, parts, total, alpha);
    if (bySitting !== undefined) return bySitting;
  }
  const estimates = parts.flatMap(({ row }) => row.estimate ?? []);
  if (estimates.length < parts.length) return null;
  const weights = parts.map(({ weight }) => weight);
  if (parts.every(({ row }) => row.basis === 'repeats-only')) {
    const average = averageEstimate(estimates, weights);
    return average.ok ? average.value : null;
  }
  return togetherEstimate(estimates, weights, total);
}

/** Undefined where a sitting lacks a workload. */
function sittingIndexEstimate(
  { baseline, candidate }: IndexSides,
  parts: readonly Part[],
  total: number,
  alpha: number,
): Estimate | null | undefined {
  const first = sittingIndices(parts, total, 'candidate', candidate.sittings.length);
  const second = sittingIndices(parts, total, 'baseline', baseline.sittings.length);
  if (first === null || second === null) return undefined;
  const both = Math.min(first.length, second.length) >= 2;
  if (both && spreadUnlike([first, second], alpha)) {
    const welch = meanDifference(first, second, 'welch');
    return welch.ok ? welch.value : null;
  }
  const variance = pooledVariance([first, second]);
  const found = variance.ok ? differenceWith(variance.value, first, second) : null;
  return found?.ok === true ? found.value : null;
}

/** Weighted mean log of each sitting, above 0 for better; null where a sitting lacks a workload. */
function sittingIndices(
  parts: readonly Part[],
  total: number,
  side: 'baseline' | 'candidate',
  sittings: number,
): readonly number[] | null {
  const indices = new Array<number>(sittings).fill(0);
  for (const { row, weight } of parts) {
    const { logs } = row[side];
    if (logs === null || logs.length !== sittings) return null;
    const share = (orientation(row[side]) * weight) / total;
    for (const [at, log] of logs.entries()) indices[at] = (indices[at] ?? 0) + share * log;
  }
  return indices;
}

/** Logs times this are above 0 for better. */
function orientation({ better }: Assessed['baseline']): 1 | -1 {
  return better === 'higher' ? 1 : -1;
}

/** Errors added up instead of their squares, with the fewest degrees of freedom: right when all move together. */
function togetherEstimate(
  estimates: readonly Estimate[],
  weights: readonly number[],
  total: number,
): Estimate {
  const weighted = (of: 'value' | 'standardError'): number =>
    estimates.reduce((sum, estimate, at) => sum + (weights[at] ?? 0) * estimate[of], 0) / total;
  return {
    value: weighted('value'),
    standardError: weighted('standardError'),
    degreesOfFreedom: Math.min(...estimates.map(({ degreesOfFreedom }) => degreesOfFreedom)),
  };
}
