import type { PlannedRun } from '../model/plan.ts';
import type { Disturbance } from '../model/run.ts';

/** Something that watches what else goes on beside one run. */
export interface RunWatcher {
  /** Called once, right after the run; tells what went on from the call of `WatchRun` until now. */
  end(): Promise<readonly Disturbance[]>;
}

/** Called right before each measured attempt at a run, after its cooldown; what it reads must cost next to nothing. */
export type WatchRun = (run: PlannedRun) => Promise<RunWatcher>;

/**
 * Looks whether the rig is still fit: called before the first run of each round but the first that this process measures,
 * after the cooldown, and again before a further attempt in a round in which it had found something.
 */
export type BetweenRounds = (next: PlannedRun) => Promise<readonly Disturbance[]>;
