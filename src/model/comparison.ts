import type { Direction, UnitCode } from './unit.ts';

export const comparisonSchema = 'steadyrig/comparison/1';

/**
 * What the comparison rests on. `sittings`: two or more sittings a side. `precision-study`: a study of an unchanged rig
 * tells how far single sittings lie apart. `repeats-only`: it speaks of these two sittings, never of the rigs.
 */
export type Basis = 'sittings' | 'precision-study' | 'repeats-only';

/** Every verdict is explained in README.md; a test checks that. */
export const verdicts = ['better', 'worse', 'equivalent', 'undecided'] as const;
export type Verdict = (typeof verdicts)[number];

/** A baseline and candidates: how large, how sure, on what basis, whether it matters, what would settle it. */
export interface Comparison {
  readonly schema: typeof comparisonSchema;
  /** Label. */
  readonly baseline: string;
  /** Of the intervals: 0.95. */
  readonly confidence: number;
  /** Difference that matters, a fraction. */
  readonly matters: number;
  /** How p-values are adjusted, over all rows together. */
  readonly adjust: 'holm';
  readonly rows: readonly ComparisonRow[];
  readonly overall: readonly OverallRow[];
  readonly differences: readonly Difference[];
  /** What was not the same in all sittings of one side. */
  readonly changes: readonly SideChange[];
  /** One for each side, the baseline first. */
  readonly sides: readonly ComparisonSide[];
  /** What could not be compared, and why. */
  readonly unmatched: readonly Unmatched[];
  /** Of the comparison as a whole. */
  readonly flags: readonly ComparisonFlag[];
}

export interface ComparisonSide {
  readonly label: string;
  /** Ids of its sittings, in order of time. */
  readonly sittings: readonly string[];
  readonly levels: Readonly<Record<string, string>>;
}

export interface ComparisonRow {
  readonly workload: string;
  readonly metric: string;
  readonly unit: UnitCode;
  readonly better: Direction;
  readonly candidate: string;
  readonly baselineSummary: SideSummary;
  readonly candidateSummary: SideSummary;
  /** Above 1: the candidate is better, whatever the direction of the metric. Null where no ratio exists. */
  readonly ratio: number | null;
  /** Interval of the ratio; null where none may be given. */
  readonly low: number | null;
  readonly high: number | null;
  /** Of no difference, two-sided. */
  readonly p: number | null;
  readonly adjustedP: number | null;
  readonly df: number | null;
  readonly basis: Basis;
  readonly verdict: Verdict;
  /** For undecided rows: what a side needs in all, at 80 % power, for the difference seen or the difference that matters, whichever is larger. */
  readonly needs: Needs | null;
  /** The same with the runs that the operator left out; null where none was. */
  readonly withExcluded: WithExcluded | null;
  readonly flags: readonly ComparisonFlag[];
}

export interface WithExcluded {
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly p: number | null;
  readonly verdict: Verdict;
}

export interface Needs {
  /** A side; null where no number of sittings in reason settles it. */
  readonly sittings: number | null;
  /** In each sitting. */
  readonly repeats: number | null;
}

export interface SideSummary {
  readonly sittings: number;
  readonly runs: number;
  /** Harmonic for rates, arithmetic else; base unit. */
  readonly mean: number;
  readonly median: number;
  /** Standard deviation of single runs over their mean; null below two runs. */
  readonly cv: number | null;
}

export interface OverallRow {
  readonly candidate: string;
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** How many workloads it is made of: one metric each, the first. */
  readonly workloads: number;
  /** The same without one of them, in the order of the suite. */
  readonly without: readonly { readonly workload: string; readonly ratio: number }[];
  /** What forbids to say that the rigs differ over all: `baseline-drift`, by the index of the baseline; `repeats-only`, where any of its figures has no other basis. */
  readonly flags: readonly ComparisonFlag[];
}

export interface Difference {
  readonly candidate: string;
  /** In the inventory, such as `memory.speed`; or `tool.version`, `program.xz`, `suite.digest`, `conditions.ambient`. */
  readonly path: string;
  /** Null: absent; `absent` says why. Several values of one side are joined by ` or `. */
  readonly from: string | null;
  readonly to: string | null;
  /** Why a side has no value; null where both have one. */
  readonly absent: string | null;
  /** True when the operator said that this is what differs. */
  readonly declared: boolean;
}

export interface SideChange {
  readonly label: string;
  /** As in `Difference`. */
  readonly path: string;
  /** What it was, in the order of time, each once; null: absent. */
  readonly values: readonly (string | null)[];
}

export interface Unmatched {
  readonly candidate: string | null;
  /** Null for all of it. */
  readonly workload: string | null;
  readonly reason: string;
}

/** Every flag is explained in README.md; a test checks that. */
export const comparisonFlags = [
  'repeats-only',
  'single-sitting',
  'confounded',
  'side-changed',
  'revision-differs',
  'baseline-drift',
  'baseline-not-repeated',
  'start-temperature',
  'throttled',
  'clock-fell-when-hot',
  'outliers',
  'trend',
  'failed-runs',
  'disturbed-runs',
  'excluded-runs',
  'exclusion-decides',
  'adaptive',
  'cut-short',
  'bound',
  'zero-values',
  'one-value',
  'no-spread',
  'too-small-to-matter',
  'different-meters',
  'unequal-variance',
  'pooling-decides',
  'invented-data',
] as const;
export type ComparisonFlag = (typeof comparisonFlags)[number];
