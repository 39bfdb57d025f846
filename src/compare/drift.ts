import { mean } from '../stats/mean.ts';
import type { Series } from './series.ts';
import type { Side } from './sides.ts';

/**
 * How many of the baseline's sittings lie before the candidate: before the first of its sittings that has one of the
 * baseline's before it. Null where the baseline was not measured both before and after that.
 */
export function sittingsBefore(baseline: Side, candidate: Side): number | null {
  const starts = baseline.sittings.map(({ startedAt }) => Date.parse(startedAt));
  const first = starts[0] ?? Number.POSITIVE_INFINITY;
  const between = candidate.sittings
    .map(({ startedAt }) => Date.parse(startedAt))
    .find((start) => start > first);
  if (between === undefined) return null;
  const before = starts.filter((start) => start < between).length;
  return before < starts.length ? before : null;
}

/** Log of the baseline after the candidate over the baseline before it, by means of sittings; null where it cannot be told. */
export function baselineDrift({ logs, places }: Series, before: number | null): number | null {
  if (before === null || logs === null) return null;
  const early = mean(logs.filter((_, at) => (places[at] ?? 0) < before));
  const late = mean(logs.filter((_, at) => (places[at] ?? 0) >= before));
  return early.ok && late.ok ? late.value - early.value : null;
}
