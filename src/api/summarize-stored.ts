import { exclusionsInForce, includedRuns } from '../model/excluded-runs.ts';
import type { Exclusion } from '../model/exclusion.ts';
import type { RunRecord } from '../model/run.ts';
import { standingRuns } from '../model/standing-runs.ts';
import type { SittingSummary } from '../model/summary.ts';
import type { StoredSitting } from '../results/read-sitting.ts';
import { summarizeSitting } from '../stats/summarize-sitting.ts';

export interface StoredSummary {
  /** Of all runs that count. */
  readonly summary: SittingSummary;
  /** In force. */
  readonly exclusions: readonly Exclusion[];
  /** Without excluded runs; null where none is excluded. */
  readonly summaryWithoutExcluded: SittingSummary | null;
}

/** The figures of a sitting with and without what the operator excluded; `lines` are those of its results folder. */
export function summarizeStored(
  { sitting, runs, corrections }: StoredSitting,
  lines: readonly Exclusion[],
): StoredSummary {
  const { id, suite } = sitting;
  const exclusions = exclusionsInForce(id, lines);
  const summary = summarizeSitting(suite.resolved, runs, corrections);
  if (exclusions.length === 0) return { summary, exclusions, summaryWithoutExcluded: null };
  const included = includedRuns(id, standingRuns(runs, corrections), lines);
  return {
    summary: flagExcluded(summary, runs, exclusions),
    exclusions,
    summaryWithoutExcluded: summarizeSitting(suite.resolved, included),
  };
}

function flagExcluded(
  summary: SittingSummary,
  runs: readonly RunRecord[],
  exclusions: readonly Exclusion[],
): SittingSummary {
  const concerned = new Set(
    runs
      .filter((run) =>
        exclusions.some(({ plan, attempt }) => run.plan === plan && run.attempt === attempt),
      )
      .map(({ workload }) => workload),
  );
  const rows = summary.rows.map((row) =>
    concerned.has(row.workload) ? { ...row, flags: [...row.flags, 'excluded-runs' as const] } : row,
  );
  return { ...summary, rows };
}
