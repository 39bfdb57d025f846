import { parkedWorkloads } from '../../model/parked-workloads.ts';
import type { PlannedRun } from '../../model/plan.ts';
import type { DisturbanceCode, RunRecord } from '../../model/run.ts';
import type { Sitting } from '../../model/sitting.ts';
import { standingRuns } from '../../model/standing-runs.ts';
import type { LastRun, Oddities, Standing } from '../../model/watch.ts';
import type { JournalSoFar } from '../../results/watch/follow-journal.ts';
import { quantile } from '../../stats/quantile.ts';
import { openRuns } from '../open-runs.ts';

const failuresKept = 3;

/** What follows from the journal, worked out anew only when there is more in it. */
export interface Derived {
  readonly sitting: Sitting;
  readonly journal: JournalSoFar;
  /** Wanted and not recorded, in the order of the plan. */
  readonly open: readonly PlannedRun[];
  readonly recorded: number;
  readonly last: readonly LastRun[];
  readonly oddities: Oddities;
}

export function deriveFacts(
  sitting: Sitting,
  journal: JournalSoFar,
  before: Derived | null,
): Derived {
  if (before?.sitting === sitting && before.journal === journal) return before;
  const { runs, corrections } = journal;
  const suite = sitting.suite.resolved;
  const standing = standingRuns(runs, corrections);
  const { measured, byHand } = openRuns(suite, sitting, { runs, corrections });
  const failed = runs.filter(({ outcome }) => outcome === 'failed');
  return {
    sitting,
    journal,
    open: [...measured, ...byHand].sort((one, other) => one.index - other.index),
    recorded: standing.length,
    last: journal.last.map((record) => ({ record, beside: standingOf(record, standing) })),
    oddities: {
      failedRuns: standing.filter(({ outcome }) => outcome === 'failed').length,
      failures: failed.slice(-failuresKept),
      retried: runs.filter(({ attempt }) => attempt > 1).length,
      disturbed: countDisturbed(runs),
      throttled: journal.throttled,
      parked: [...parkedWorkloads(suite, runs).keys()],
      interruptions: sitting.interruptions.length,
      damage: journal.damage,
    },
  };
}

/** Runs by what disturbed them; a run counts once for each kind. */
function countDisturbed(runs: readonly RunRecord[]): Partial<Record<DisturbanceCode, number>> {
  const counts: Partial<Record<DisturbanceCode, number>> = {};
  for (const { disturbances } of runs) {
    for (const code of new Set(disturbances.map((found) => found.code))) {
      counts[code] = (counts[code] ?? 0) + 1;
    }
  }
  return counts;
}

/** The first figure of a good repeat beside those before it; null where there is nothing to lay beside. */
function standingOf(record: RunRecord, standing: readonly RunRecord[]): Standing | null {
  const [metric] = record.metrics;
  if (record.phase !== 'repeat' || metric === undefined) return null;
  const place = standing.findIndex(({ plan }) => plan === record.plan);
  const earlier = standing
    .slice(0, place)
    .filter(({ workload, phase }) => workload === record.workload && phase === 'repeat')
    .flatMap(({ metrics }) => metrics.filter(({ id }) => id === metric.id))
    .map(({ value }) => value);
  const median = quantile(earlier, 0.5);
  if (!median.ok) return null;
  return {
    earlier: earlier.length,
    median: median.value,
    low: Math.min(...earlier),
    high: Math.max(...earlier),
  };
}
