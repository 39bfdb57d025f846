import type { PlannedRun } from './plan.ts';
import type { DisturbanceCode, RunRecord } from './run.ts';
import type { SittingState } from './sitting.ts';
import type { UnderWayPhase } from './under-way.ts';

/**
 * Whether a sitting is being measured, judged by its heartbeat. `beating`: it was heard of lately. `doubtful`: its time is too
 * old or lies ahead, which a clock set meanwhile explains as well; a later look tells. `stale`: nobody measures any more.
 */
export type Heart =
  | { readonly kind: 'beating'; readonly ageSeconds: number }
  | { readonly kind: 'doubtful'; readonly why: HeartTrouble }
  | { readonly kind: 'stale'; readonly why: HeartTrouble }
  /** The sitting has ended. */
  | { readonly kind: 'ended' };

/** `beatAt` is null where no marker is there. `isPidGone`: of a marker of this boot. */
export interface HeartTrouble {
  readonly beatAt: string | null;
  /** By the clock of who watches; negative when the clocks differ. Null without a marker. */
  readonly ageSeconds: number | null;
  readonly isPidGone: boolean;
}

/** How a figure lies beside earlier good repeats of its workload, base units. */
export interface Standing {
  readonly earlier: number;
  readonly median: number;
  readonly low: number;
  readonly high: number;
}

export interface LastRun {
  readonly record: RunRecord;
  /** Of its first figure; null for warm-ups, failed runs and the first of its kind. */
  readonly beside: Standing | null;
}

/** What was odd so far; runs are counted by attempts. */
export interface Oddities {
  /** Planned runs whose figures are missing since no attempt was good. */
  readonly failedRuns: number;
  /** The latest failed attempts, oldest first. */
  readonly failures: readonly RunRecord[];
  readonly retried: number;
  readonly disturbed: Readonly<Partial<Record<DisturbanceCode, number>>>;
  readonly throttled: number;
  /** Workloads with too many failed runs in a row. */
  readonly parked: readonly string[];
  readonly interruptions: number;
  /** The journal cannot be read on from here; null while it can. */
  readonly damage: string | null;
}

/** What the sensors say now, of the end of `telemetry.jsonl`. */
export interface HeatNow {
  /** RFC 3339, UTC: of the sample. */
  readonly at: string;
  /** Processor; null where nothing tells. */
  readonly celsius: number | null;
  readonly critical: number | null;
  /** Other temperatures, the hottest first. */
  readonly others: readonly { readonly label: string; readonly celsius: number }[];
  readonly meanClockHz: number | null;
  readonly fastestClockHz: number | null;
}

/** A sitting as its files tell it. */
export interface WatchSnapshot {
  readonly id: string;
  readonly folder: string;
  readonly rig: string;
  readonly suite: string;
  readonly startedAt: string;
  readonly state: SittingState;
  readonly sealed: boolean;
  /** When the files were looked at. RFC 3339, UTC. */
  readonly at: string;
  readonly heart: Heart;
  readonly planned: number;
  /** Planned runs that are recorded, or passed over. */
  readonly done: number;
  readonly recorded: number;
  /** Last round of the plan; `isAtMost` where adaptive repeats may end before. */
  readonly rounds: {
    readonly repeats: number;
    readonly warmUps: number;
    readonly isAtMost: boolean;
  };
  readonly now: {
    readonly phase: UnderWayPhase;
    readonly run: PlannedRun | null;
    readonly attempt: number;
    /** How long by now; null where it cannot be told. */
    readonly seconds: number | null;
  } | null;
  readonly secondsLeft: number | null;
  readonly deadline: string | null;
  readonly heat: HeatNow | null;
  /** Of the processor, in finished runs and while it was watched; null where nothing tells. */
  readonly highestCelsius: number | null;
  /** Oldest first. */
  readonly last: readonly LastRun[];
  readonly next: readonly PlannedRun[];
  readonly oddities: Oddities;
}
