import PQueue from 'p-queue';
import type { Plan, PlannedRun } from '../model/plan.ts';
import type { Suite } from '../model/suite.ts';
import type { Recorded } from './ledger.ts';
import type { PlanHooks } from './plan-hooks.ts';
import { PlanUnderWay } from './plan-under-way.ts';
import type { RunSetting } from './run-part.ts';

export interface PlanResult extends Recorded {
  /** False when it ended early, for the cause that `hooks.stop` names. Runs left for later do not count as an early end. */
  readonly complete: boolean;
  /** Runs read by hand whose figures are still to come. */
  readonly leftForLater: readonly PlannedRun[];
}

/**
 * Works through the plan, one run at a time, doing what `recorded` still lacks. Ends early when a stop is asked for or the
 * next run is not expected to end before the deadline; rejects when a record cannot be written, since an unrecorded run
 * must not be followed by another.
 */
export async function runPlan(
  suite: Suite,
  plan: Plan,
  recorded: Recorded,
  setting: RunSetting,
  hooks: PlanHooks,
): Promise<PlanResult> {
  const sitting = new PlanUnderWay(suite, recorded, setting, hooks);
  const queue = new PQueue({ concurrency: 1 });
  const perform = async (planned: PlannedRun): Promise<void> => {
    try {
      await sitting.perform(planned);
    } catch (error) {
      queue.clear();
      throw error;
    }
  };
  await queue.addAll(plan.runs.map((run) => () => perform(run)));
  const { ledger, leftForLater, hasEndedEarly } = sitting;
  const { runs, corrections } = ledger;
  return { complete: !hasEndedEarly, runs, corrections, leftForLater };
}
