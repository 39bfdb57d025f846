export const endNoticeSchema = 'steadyrig/notice/1';

/** How it ended. `refused`: nothing was measured, or nothing more. */
export const endOutcomes = [
  'complete',
  'cut-short',
  'waiting',
  'interrupted',
  'write-failed',
  'refused',
  'internal-error',
] as const;
/** Why it was refused. `changed`: the rig, since the sitting began. `input`: what was given is wrong. */
export const refusalReasons = ['busy', 'unfit', 'changed', 'input'] as const;
export type RefusalReason = (typeof refusalReasons)[number];
export type EndOutcome = (typeof endOutcomes)[number];

/** Told to a command or an address when a sitting ends. Names no host, no user and no path. */
export interface EndNotice {
  readonly schema: typeof endNoticeSchema;
  /** RFC 3339, UTC: of the notice. */
  readonly at: string;
  readonly outcome: EndOutcome;
  /** Null unless it was refused. */
  readonly reason: RefusalReason | null;
  /** For people, one line. */
  readonly text: string;
  /** Name of the sitting's folder; null where it came to none. */
  readonly sitting: string | null;
  readonly rig: string;
  readonly suite: string;
  readonly profile: string | null;
  readonly startedAt: string | null;
  readonly endedAt: string | null;
  /** Null where the sitting did not begin. */
  readonly plannedRuns: number | null;
  /** Planned runs that are recorded. After `write-failed` and `internal-error` those of this part of the sitting. */
  readonly recordedRuns: number;
  /** Those of them without a good attempt. */
  readonly failedRuns: number;
  /** Attempts beyond the first. */
  readonly retriedRuns: number;
  /** Attempts beside which something else went on. */
  readonly disturbedRuns: number;
  /** Attempts in which the processor was slowed by heat. */
  readonly throttledRuns: number;
  /** Workloads with too many failed runs in a row. */
  readonly parked: readonly string[];
  readonly interruptions: number;
  /** Of the command that measured. */
  readonly exitCode: number;
}
