import { whyAnotherAttempt } from '../model/another-attempt.ts';
import { attemptsByPlan } from '../model/attempts.ts';
import { parkedWorkloads } from '../model/parked-workloads.ts';
import type { PlannedRun } from '../model/plan.ts';
import type { Sitting } from '../model/sitting.ts';
import { standingRuns } from '../model/standing-runs.ts';
import type { Suite } from '../model/suite.ts';
import type { Recorded } from '../runner/ledger.ts';
import { whySettled } from './why-settled.ts';

/** Planned runs that are wanted and have no record, or are to be tried again; in the order of the plan. */
export interface OpenRuns {
  readonly measured: readonly PlannedRun[];
  /** Whose figures are read by hand. */
  readonly byHand: readonly PlannedRun[];
}

/** What a sitting still lacks; runs of parked workloads are not wanted. */
export function openRuns(
  suite: Suite,
  { plan, leftOut }: Pick<Sitting, 'plan' | 'leftOut'>,
  { runs, corrections }: Recorded,
): OpenRuns {
  const attempts = attemptsByPlan(runs);
  const absent = new Set(leftOut.map(({ workload }) => workload));
  const parked = parkedWorkloads(suite, runs);
  const standing = standingRuns(runs, corrections);
  const settled = new Set(
    suite.workloads
      .filter((workload) => whySettled(suite, workload, standing) !== null)
      .map(({ id }) => id),
  );
  const byHand = new Set(
    suite.workloads.filter(({ program }) => program.kind === 'by-hand').map(({ id }) => id),
  );
  const isDue = ({ index }: PlannedRun): boolean => {
    const own = attempts.get(index);
    return own === undefined || whyAnotherAttempt(suite.retry, own) !== null;
  };
  const open = plan.runs.filter(
    (run) =>
      isDue(run) &&
      !absent.has(run.workload) &&
      !parked.has(run.workload) &&
      !(run.conditional && settled.has(run.workload)),
  );
  return {
    measured: open.filter(({ workload }) => !byHand.has(workload)),
    byHand: open.filter(({ workload }) => byHand.has(workload)),
  };
}
