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
  /** Not wanted any more, since the time of the sitting was over before: measured ones, and by-hand ones of rounds not begun. */
  readonly cutOff: readonly PlannedRun[];
}

/** What a sitting still lacks; runs of parked workloads are not wanted. `isOver`: its time is over, and it has what it will have. */
export function openRuns(
  suite: Suite,
  sitting: Pick<Sitting, 'plan' | 'leftOut' | 'state' | 'interruptions'>,
  { runs, corrections }: Recorded,
  isOver: boolean = wasCutOff(sitting),
): OpenRuns {
  const { plan, leftOut } = sitting;
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
  const measured = open.filter(({ workload }) => !byHand.has(workload));
  const asked = open.filter(({ workload }) => byHand.has(workload));
  if (!isOver) return { measured, byHand: asked, cutOff: [] };
  const begun = new Set(runs.map(roundOf));
  return {
    measured: [],
    byHand: asked.filter((run) => begun.has(roundOf(run))),
    cutOff: [...measured, ...asked.filter((run) => !begun.has(roundOf(run)))],
  };
}

/** Its time was over, and only figures read by hand are wanted. */
function wasCutOff({ state, interruptions }: Pick<Sitting, 'state' | 'interruptions'>): boolean {
  return state === 'waiting' && interruptions.at(-1)?.cause === 'deadline';
}

function roundOf({ phase, round }: Pick<PlannedRun, 'phase' | 'round'>): string {
  return `${phase} ${round}`;
}
