import { type ComparisonFlag, comparisonFlags, type Verdict } from '../model/comparison.ts';
import type { Assessed } from './assess.ts';
import { hasOutliers } from './outliers.ts';
import type { Series } from './series.ts';
import { hasTrend } from './trend.ts';
import { isWithin, type Levels } from './verdict.ts';
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
  if (row.obstacle !== null) found.add(row.obstacle);
  if (row.pool.unequal) found.add('unequal-variance');
  if (row.otherPrograms) found.add('revision-differs');
  if (startsUnlike(facts)) found.add('start-temperature');
  const differs = verdict === 'better' || verdict === 'worse';
  if (differs && row.estimate !== null && isWithin(row.estimate, levels)) {
    found.add('too-small-to-matter');
  }
  return [...found];
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
