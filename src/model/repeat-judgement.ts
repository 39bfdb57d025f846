import type { Direction, UnitCode } from './unit.ts';

/** Every verdict is explained in README.md; a test checks that. */
export const repeatVerdicts = [
  'came-back',
  'gone',
  'not-odd',
  'between',
  'neither',
  'cannot-tell',
] as const;
export type RepeatVerdict = (typeof repeatVerdicts)[number];

/** Whether what was odd about a workload in one sitting is there in another as well; both stay. */
export interface RepeatJudgement {
  readonly workload: string;
  /** Ids of the sittings: the one that was odd, the one that repeats it, and the others of the rig. */
  readonly earlier: string;
  readonly later: string;
  readonly others: readonly string[];
  /** One for each metric, in the order of the suite. */
  readonly rows: readonly RepeatRow[];
}

export interface RepeatRow {
  readonly metric: string;
  readonly unit: UnitCode;
  readonly better: Direction;
  /** Means of the two sittings; null where one has no figure above zero. */
  readonly earlierMean: number | null;
  readonly laterMean: number | null;
  /** Geometric mean of the means of the others; null where there are none. */
  readonly othersMean: number | null;
  /** Later over earlier, and how far above or below 1 it may lie (as a ratio) where nothing but chance is at work. */
  readonly ratio: number | null;
  readonly limit: number | null;
  readonly basis: 'precision-study' | 'other-sittings' | null;
  readonly verdict: RepeatVerdict;
  /** What is needed to tell, as a clause; null unless it cannot be told. */
  readonly needs: string | null;
}
