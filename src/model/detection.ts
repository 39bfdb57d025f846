import type { UntoldPrecision } from './precision.ts';

/** What it takes to find a difference of a named size, four times out of five, by what a precision study knows. */
export interface Detection {
  /** The difference, a fraction: 0.03 is 3 %. */
  readonly difference: number;
  readonly power: number;
  /** Of significance, two-sided, for each figure looked at alone. */
  readonly level: number;
  readonly study: {
    readonly rig: string;
    /** RFC 3339, UTC. */
    readonly at: string;
    readonly sittings: number;
  };
  /** A sitting's, as the suite is written; of adaptive ones the least. */
  readonly repeats: number;
  /** What a sitting takes beside its runs: swap, reboot, settling. */
  readonly sittingSeconds: number;
  /** One for each workload: its first metric. In the order of the suite. */
  readonly rows: readonly DetectionRow[];
  /** For every row at once, in the same sittings. */
  readonly whole: Efforts;
  readonly untold: readonly UntoldPrecision[];
}

export interface DetectionRow extends Efforts {
  readonly workload: string;
  readonly metric: string;
}

/** Null where no number in reason does it. */
export interface Efforts {
  readonly asWritten: Effort | null;
  /** Takes the least time. */
  readonly best: Effort | null;
}

/** Of each side of the comparison. With one sitting it rests on the study, with more on the sittings themselves. */
export interface Effort {
  readonly sittings: number;
  readonly repeats: number;
  /** Null where the study does not know how long a run takes. */
  readonly seconds: number | null;
}
