import type { Plan } from '../model/plan.ts';
import type { Suite } from '../model/suite.ts';
import { estimateSeconds } from './estimate.ts';

/** How much of a plan is estimated to fit into a time. */
export interface FittingRounds {
  readonly seconds: number;
  /** Whole measured rounds. */
  readonly rounds: number;
  readonly planned: number;
}

/** Counts the whole rounds of repeats that fit, every conditional run included. */
export function roundsThatFit(
  suite: Suite,
  plan: Plan,
  seconds: number,
  measuredSeconds: ReadonlyMap<string, number> = new Map(),
): FittingRounds {
  const planned = plan.runs.at(-1)?.round ?? 0;
  let rounds = 0;
  for (let round = 1; round <= planned; round += 1) {
    const runs = plan.runs.filter((run) => run.phase === 'warm-up' || run.round <= round);
    const { secondsWithConditional } = estimateSeconds(suite, { runs }, measuredSeconds);
    if (secondsWithConditional > seconds) break;
    rounds = round;
  }
  return { seconds, rounds, planned };
}
