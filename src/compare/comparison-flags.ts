import type { ComparisonFlag, Difference, SideChange } from '../model/comparison.ts';
import { sittingsBefore } from './drift.ts';
import { inUsualOrder } from './row-flags.ts';
import type { Side, Sides } from './sides.ts';

export interface Told {
  readonly differences: readonly Difference[];
  readonly changes: readonly SideChange[];
}

/** Flags of the comparison as a whole, in their usual order. */
export function flagComparison(
  { baseline, candidates }: Sides,
  { differences, changes }: Told,
): readonly ComparisonFlag[] {
  const flags: ComparisonFlag[] = [];
  const compared = candidates.filter(({ sittings }) => sittings.length > 0);
  const all = [baseline, ...compared].flatMap(({ sittings }) => sittings);
  if (differences.some(({ declared }) => !declared)) flags.push('confounded');
  if (changes.length > 0) flags.push('side-changed');
  if (new Set(all.map(({ suite }) => suite.digest)).size > 1) flags.push('revision-differs');
  if (compared.some((side) => sittingsBefore(baseline, side) === null)) {
    flags.push('baseline-not-repeated');
  }
  if (all.some(({ suite }) => suite.adaptive)) flags.push('adaptive');
  if (all.some(({ state }) => state === 'cut-short')) flags.push('cut-short');
  if (compared.some((side) => metersDiffer(baseline, side))) flags.push('different-meters');
  if (all.some(({ invented }) => invented)) flags.push('invented-data');
  return inUsualOrder(flags);
}

function metersDiffer(baseline: Side, candidate: Side): boolean {
  const meters = [...baseline.sittings, ...candidate.sittings].map(({ meter }) => meter);
  return new Set(meters).size > 1;
}
