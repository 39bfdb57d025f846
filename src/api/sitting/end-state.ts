import type { Sitting } from '../../model/sitting.ts';
import type { Suite } from '../../model/suite.ts';
import type { PlanResult } from '../../runner/run-plan.ts';
import { type OpenRuns, openRuns } from '../open-runs.ts';

export type EndState = Exclude<Sitting['state'], 'open'>;
type FinishedState = Exclude<EndState, 'interrupted'>;

/**
 * What measuring leaves behind. A sitting whose time was over is `cut-short` when at least one round of repeats is whole;
 * with fewer it says nothing about any workload beside the others, and stays to be continued.
 */
export function endState(
  suite: Suite,
  sitting: Sitting,
  result: PlanResult,
  isOver: boolean,
): EndState {
  if (!result.complete && !isOver) return 'interrupted';
  const open = openRuns(suite, sitting, result, !result.complete);
  if (!result.complete && !hasWholeRound(sitting, result, open)) return 'interrupted';
  return finishedState(open);
}

/** Of a sitting in which nothing is to be measured any more. */
export function finishedState({ byHand, cutOff }: OpenRuns): FinishedState {
  if (byHand.length > 0) return 'waiting';
  return cutOff.length > 0 ? 'cut-short' : 'complete';
}

/** Every workload that is measured has its repeat. */
function hasWholeRound({ plan }: Sitting, { runs }: PlanResult, { cutOff }: OpenRuns): boolean {
  const lacking = new Set(
    cutOff.filter(({ phase }) => phase === 'repeat').map(({ round }) => round),
  );
  const measured = new Set(runs.filter(({ entry }) => entry === null).map((run) => run.plan));
  return plan.runs.some(
    ({ index, phase, round }) => phase === 'repeat' && measured.has(index) && !lacking.has(round),
  );
}
