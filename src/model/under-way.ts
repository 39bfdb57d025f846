export const underWaySchema = 'steadyrig/under-way/1';

/**
 * `under-way.json` beside the data of an open sitting: what the agent is doing now. On the disk before a program starts,
 * so that a run cut off by a crash is known; rewritten every few seconds as a heartbeat; gone once the sitting ends.
 */
export interface UnderWay {
  readonly schema: typeof underWaySchema;
  readonly pid: number;
  readonly bootId: string | null;
  /** RFC 3339, UTC: of the last heartbeat. */
  readonly beatAt: string;
  readonly phase: UnderWayPhase;
  /** The planned run that `phase` is about; null for none. */
  readonly run: {
    readonly plan: number;
    readonly attempt: number;
    /** RFC 3339, UTC: of the phase. */
    readonly since: string;
  } | null;
  /** Of all runs still to come; null where it cannot be told. */
  readonly secondsLeft: number | null;
}

export const underWayPhases = ['preparing', 'cooldown', 'run', 'asking', 'sealing'] as const;
export type UnderWayPhase = (typeof underWayPhases)[number];
