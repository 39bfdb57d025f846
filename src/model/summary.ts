import type { Direction, MetricNature, UnitCode } from './unit.ts';

/** Figures of one sitting for people: one row for each workload and metric. */
export interface SittingSummary {
  readonly rows: readonly SummaryRow[];
  readonly workloads: readonly WorkloadCount[];
}

export interface WorkloadCount {
  readonly workload: string;
  readonly title: string;
  readonly ok: number;
  readonly failed: number;
}

export interface SummaryRow {
  readonly workload: string;
  readonly metric: string;
  readonly unit: UnitCode;
  readonly better: Direction;
  readonly nature: MetricNature;
  /** Measured repeats in the order they ran, base units. */
  readonly values: readonly number[];
  /** Harmonic for rates, arithmetic else. */
  readonly mean: number;
  readonly meanKind: 'arithmetic' | 'harmonic';
  readonly median: number;
  /** 95 % interval of the mean by Student's t; null below two values. */
  readonly interval: { readonly low: number; readonly high: number } | null;
  /** Standard deviation over mean; null below two values or where the mean is not positive. */
  readonly variation: number | null;
  readonly min: number;
  readonly max: number;
  readonly flags: readonly SummaryFlag[];
}

/** Every flag is explained in README.md; a test checks that. */
export const summaryFlags = [
  'one-value',
  'wide-interval',
  'bound',
  'failed-runs',
  'adaptive',
  'excluded-runs',
] as const;
export type SummaryFlag = (typeof summaryFlags)[number];
