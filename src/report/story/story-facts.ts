import type { Comparison } from '../../model/comparison.ts';
import type { Effects } from '../../model/effects.ts';
import type { ReportMetric, ReportRig } from '../../model/report.ts';
import type { Correction, RunRecord } from '../../model/run.ts';
import type { Sitting } from '../../model/sitting.ts';
import type { Suite } from '../../model/suite.ts';
import type { Worth } from '../../model/worth.ts';

/** What the texts of a report are written from. */
export interface StoryFacts {
  /** The baseline first. */
  readonly rigs: readonly ReportRig[];
  readonly suite: Suite;
  readonly comparison: Comparison;
  readonly effects: Effects | null;
  readonly worth: Worth | null;
  readonly metrics: readonly ReportMetric[];
  /** In order of time. */
  readonly sittings: readonly StorySitting[];
  /** What reading and choosing the sittings told. */
  readonly notes: readonly string[];
}

export interface StorySitting {
  /** Label in the report. */
  readonly rig: string;
  readonly sitting: Sitting;
  readonly runs: readonly RunRecord[];
  readonly corrections: readonly Correction[];
  readonly isSealed: boolean;
  readonly isSealChecked: boolean;
}
