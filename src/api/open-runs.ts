import type { PlannedRun } from '../model/plan.ts';
import type { RunRecord } from '../model/run.ts';
import type { Sitting } from '../model/sitting.ts';
import type { Suite } from '../model/suite.ts';
import { whySettled } from './why-settled.ts';

/** Planned runs that are wanted and have no record, in the order of the plan. */
export interface OpenRuns {
  readonly measured: readonly PlannedRun[];
  /** Whose figures are read by hand. */
  readonly byHand: readonly PlannedRun[];
}

/** What a sitting still lacks. `standing` are its runs with corrections applied. */
export function openRuns(
  suite: Suite,
  { plan, leftOut }: Pick<Sitting, 'plan' | 'leftOut'>,
  standing: readonly RunRecord[],
): OpenRuns {
  const done = new Set(standing.map((run) => run.plan));
  const absent = new Set(leftOut.map(({ workload }) => workload));
  const settled = new Set(
    suite.workloads
      .filter((workload) => whySettled(suite, workload, standing) !== null)
      .map(({ id }) => id),
  );
  const byHand = new Set(
    suite.workloads.filter(({ program }) => program.kind === 'by-hand').map(({ id }) => id),
  );
  const open = plan.runs.filter(
    ({ index, workload, conditional }) =>
      !done.has(index) && !absent.has(workload) && !(conditional && settled.has(workload)),
  );
  return {
    measured: open.filter(({ workload }) => !byHand.has(workload)),
    byHand: open.filter(({ workload }) => byHand.has(workload)),
  };
}
