import type { RunOrder } from './suite.ts';

/** The exact order of runs: the same for the same suite and seed on any machine. */
export interface Plan {
  readonly seed: number;
  readonly order: RunOrder;
  /** How the order was drawn; a new way of drawing gets a new name. */
  readonly algorithm: 'xoshiro128ss-fisher-yates/1' | 'as-written/1';
  readonly runs: readonly PlannedRun[];
}

export interface PlannedRun {
  /** Position in the plan, from 0. */
  readonly index: number;
  readonly phase: 'warm-up' | 'repeat';
  /** From 1 within the phase. */
  readonly round: number;
  readonly workload: string;
  /** True beyond the least number of adaptive repeats: left out once the interval is narrow enough. */
  readonly conditional: boolean;
}
