import type { SittingEvent } from '../model/event.ts';
import type { PlannedRun } from '../model/plan.ts';
import type { Correction, RunRecord } from '../model/run.ts';
import type { Metric, Workload } from '../model/suite.ts';
import type { Operator } from './by-hand/operator.ts';
import type { LoadMeter } from './cooldown.ts';
import type { Deadline } from './deadline.ts';
import type { BetweenRounds, WatchRun } from './disturbance-watch.ts';
import type { StopControl } from './stop-control.ts';

/** What working through a plan needs of the world around it. */
export interface PlanHooks {
  /** Resolves when the run is on the disk; the next run does not begin before. */
  readonly append: (record: RunRecord) => Promise<void>;
  /** The same for a correction of a figure read by hand. */
  readonly correct: (correction: Correction) => Promise<void>;
  /** Resolves when it is on the disk that this run is about to start: so one that a crash cuts off is known. */
  readonly mark: (run: PlannedRun, attempt: number) => Promise<void>;
  readonly emit: (event: SittingEvent) => void;
  /** A reason to leave a conditional run out, from the runs that count so far; null when it is needed. */
  readonly whySettled: (workload: Workload, runs: readonly RunRecord[]) => string | null;
  /** Why a figure is unusual beside earlier ones of its kind; null when it is not. */
  readonly whyUnusual: (metric: Metric, value: number, earlier: readonly number[]) => string | null;
  /** Null where nobody can be asked: runs read by hand are then left for later. */
  readonly operator: Operator | null;
  readonly readLoad: LoadMeter;
  readonly stop: StopControl;
  /** Null where nobody watches what else goes on. */
  readonly watchRun: WatchRun | null;
  readonly betweenRounds: BetweenRounds | null;
  /** When the sitting is to be over; null for no such time. */
  readonly deadline: Deadline | null;
}
