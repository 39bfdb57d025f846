import { type ComparisonFlag, comparisonFlags, type Verdict } from '../model/comparison.ts';
import { testEstimate } from '../stats/estimate.ts';
import { meanDifference } from '../stats/two-sample-t.ts';
import type { Assessed } from './assess.ts';
import { hasOutliers } from './outliers.ts';
import type { Series } from './series.ts';
import { hasTrend } from './trend.ts';
import { isWithin, type Levels, verdictOf } from './verdict.ts';
import type { WorkloadFacts } from './workload-facts.ts';

/** Starting temperatures further apart than this are told where the cooldown names no band. Common practice, no source. */
const startBandKelvin = 3;

export interface RowFacts {
  readonly baseline: WorkloadFacts | undefined;
  readonly candidate: WorkloadFacts | undefined;
  /** Of the suite's cooldown; null where it names none. */
  readonly startBandKelvin: number | null;
}

/** What the figures of one side show by themselves; each series is looked at once, in however many rows it stands. */
export function seriesFlags(series: Series, alpha: number): readonly ComparisonFlag[] {
  const flags: ComparisonFlag[] = [];
  if (hasOutliers(series, alpha / 2)) flags.push('outliers');
  if (hasTrend(series.sittings, alpha / 2)) flags.push('trend');
  if (series.bounded) flags.push('bound');
  return flags;
}

/** Flags of a row, in their usual order, each once. */
export function rowFlags(
  row: Assessed,
  verdict: Verdict,
  levels: Levels,
  facts: RowFacts,
): ComparisonFlag[] {
  const found = new Set<ComparisonFlag>();
  for (const side of [facts.baseline, facts.candidate]) {
    for (const flag of side?.flags ?? []) found.add(flag);
  }
  if (row.basis === 'repeats-only') found.add('repeats-only');
  if (restsOnOneSitting(row)) found.add('single-sitting');
  if (row.obstacle !== null) found.add(row.obstacle);
  if (row.pool.unequal) found.add('unequal-variance');
  if (poolingDecides(row, verdict, levels)) found.add('pooling-decides');
  if (row.otherPrograms) found.add('revision-differs');
  if (startsUnlike(facts)) found.add('start-temperature');
  const differs = verdict === 'better' || verdict === 'worse';
  if (differs && row.estimate !== null && isWithin(row.estimate, levels)) {
    found.add('too-small-to-matter');
  }
  return [...found];
}

/** The spread of a side is borrowed from the other rigs, as far as `sittings` go. */
function restsOnOneSitting({ basis, baseline, candidate }: Assessed): boolean {
  return basis === 'sittings' && Math.min(baseline.sittings.length, candidate.sittings.length) < 2;
}

/**
 * True when a verdict holds by the pooled spread, and not by Welch's test on the two sides alone at the same adjustment: where a rig with
 * few sittings spreads more than the others, pooling raises false alarms far above their level, and Levene's test sees little.
 */
function poolingDecides(row: Assessed, verdict: Verdict, levels: Levels): boolean {
  const { pool, p, adjustedP, estimate } = row;
  if (row.basis !== 'sittings' || pool.variance === null || verdict === 'undecided') return false;
  const [first, second] = [row.candidate.logs, row.baseline.logs];
  if (estimate === null || p === null || adjustedP === null || first === null || second === null) {
    return false;
  }
  if (Math.min(first.length, second.length) < 2) return false;
  const welch = meanDifference(first, second, 'welch');
  if (!welch.ok) return true;
  const own = { ...welch.value, value: estimate.value };
  const adjustment = p > 0 ? adjustedP / p : 1;
  return verdictOf(own, Math.min(1, testEstimate(own).p * adjustment), levels) !== verdict;
}

export function inUsualOrder(flags: Iterable<ComparisonFlag>): readonly ComparisonFlag[] {
  const found = new Set(flags);
  return found.size === 0 ? [] : comparisonFlags.filter((flag) => found.has(flag));
}

function startsUnlike({ baseline, candidate, startBandKelvin: band }: RowFacts): boolean {
  const [own, other] = [baseline?.startCelsius ?? null, candidate?.startCelsius ?? null];
  if (own === null || other === null) return false;
  return Math.abs(own - other) > (band ?? startBandKelvin);
}
