import type { Basis, Comparison } from './comparison.ts';
import type { Effects } from './effects.ts';
import type { SittingState } from './sitting.ts';
import type { Direction, UnitCode } from './unit.ts';
import type { Worth } from './worth.ts';

export const reportSchema = 'steadyrig/report/1';

/** All that a report says, as data: page, charts, text, Markdown and tables are written from this alone. */
export interface Report {
  readonly schema: typeof reportSchema;
  /** Version of steadyrig that made it. */
  readonly tool: string;
  readonly title: string;
  /** Of the campaign; null where rigs were named by hand. */
  readonly question: string | null;
  /** Any price or figure is made up. */
  readonly invented: boolean;
  /** RFC 3339, UTC; handed in by whoever gathers. */
  readonly madeAt: string;
  readonly suite: ReportSuite;
  /** The baseline first. */
  readonly rigs: readonly ReportRig[];
  /** Two or three sentences, from the verdicts. */
  readonly answer: readonly string[];
  /** The first has the chosen baseline; the others each another rig as baseline. Only the first where all would be too large. */
  readonly comparisons: readonly [Comparison, ...Comparison[]];
  /** In the order of the suite. */
  readonly metrics: readonly ReportMetric[];
  /** Null where no factors are named or they cannot be told. */
  readonly effects: Effects | null;
  /** Null without prices. */
  readonly worth: Worth | null;
  readonly inventory: readonly InventoryRow[];
  readonly courses: readonly SittingCourse[];
  readonly quality: readonly QualityNote[];
  /** Paragraphs, ready to be pasted. */
  readonly method: readonly string[];
  readonly sources: readonly ReportSource[];
}

export interface ReportSuite {
  readonly id: string;
  readonly title: string;
  readonly revision: number;
  readonly profile: string | null;
  readonly digest: string;
  /** In order. */
  readonly workloads: readonly { readonly id: string; readonly title: string }[];
}

export interface ReportRig {
  /** Names the rig everywhere else in the report. */
  readonly label: string;
  readonly title: string;
  readonly levels: Readonly<Record<string, string>>;
  /** Ids, in order of time. */
  readonly sittings: readonly string[];
}

export interface ReportMetric {
  readonly workload: string;
  readonly workloadTitle: string;
  readonly metric: string;
  readonly unit: UnitCode;
  readonly better: Direction;
  /** It is the metric by which its workload enters the overall index. */
  readonly isInIndex: boolean;
  /** In the order of the rigs; those without a good run are left out. */
  readonly rigs: readonly RigFigures[];
}

/** Absolute figures of a rig, base units. Excluded runs are not in them. */
export interface RigFigures {
  readonly rig: string;
  /** Harmonic for rates, arithmetic else. */
  readonly mean: number;
  readonly median: number;
  /** Interval of the rig's own mean, on the log scale; null where its basis gives none. Intervals of two rigs do not tell whether they differ: ratios do. */
  readonly low: number | null;
  readonly high: number | null;
  /** `repeats-only`: the interval speaks of this sitting. */
  readonly basis: Basis;
  /** Standard deviation of single runs over their mean; null below two runs. */
  readonly cv: number | null;
  readonly runs: readonly ReportRun[];
}

export interface ReportRun {
  /** Id. */
  readonly sitting: string;
  /** Of the measured runs of this workload in this sitting that stand, from 1, in the order they ran. */
  readonly repeat: number;
  /** Base unit. */
  readonly value: number;
  /** The operator's reason for leaving it out; null where it counts. */
  readonly excluded: string | null;
  /** In the words of the comparison's flags: `outliers`, `disturbed-runs`, `throttled`. */
  readonly marks: readonly string[];
}

export interface InventoryRow {
  /** As in the comparison's differences: `memory.speed`. */
  readonly path: string;
  readonly title: string;
  /** Group of rows: processor, memory, … */
  readonly part: string;
  /** For people, in the order of the rigs; several of one rig joined by ` or `; null: absent. */
  readonly values: readonly (string | null)[];
  readonly differs: boolean;
  /** The difference was declared, or follows from a declared factor. */
  readonly declared: boolean;
}

/** Temperature, clock and power through a sitting, thinned for drawing. */
export interface SittingCourse {
  readonly sitting: string;
  readonly rig: string;
  readonly seconds: number;
  readonly series: readonly CourseSeries[];
  /** In order of time. */
  readonly runs: readonly CourseRun[];
  /** When the agent was away: a crash, a power cut, a reboot. */
  readonly gaps: readonly { readonly fromSeconds: number; readonly toSeconds: number }[];
}

export interface CourseSeries {
  readonly kind: 'temperature' | 'clock' | 'power' | 'fan';
  /** Of the sensor, for people. */
  readonly label: string;
  readonly unit: UnitCode;
  /** At most 400; each the mean of its span, so that `low` and `high` keep the peaks. */
  readonly points: readonly {
    readonly atSeconds: number;
    readonly mean: number;
    readonly low: number;
    readonly high: number;
  }[];
}

export interface CourseRun {
  readonly workload: string;
  readonly fromSeconds: number;
  readonly toSeconds: number;
  readonly isWarmUp: boolean;
  readonly outcome: 'ok' | 'failed';
}

/** Every kind has a heading of its own in the report; a test checks that. */
export const qualityKinds = [
  'failed-runs',
  'outliers',
  'trend',
  'throttling',
  'disturbances',
  'confounding',
  'changes-within-a-rig',
  'accepted-changes',
  'exclusions',
  'baseline-drift',
  'limits',
  'corrections',
  'open-sittings',
  'left-out',
  'preflight',
  'seals',
] as const;
export type QualityKind = (typeof qualityKinds)[number];

export interface QualityNote {
  readonly kind: QualityKind;
  /** Rig, workload or sitting that it speaks of; null for the report as a whole. */
  readonly subject: string | null;
  /** A sentence. */
  readonly text: string;
}

export interface ReportSource {
  /** Name of the folder. */
  readonly sitting: string;
  readonly rig: string;
  readonly state: SittingState;
  /** RFC 3339, UTC. */
  readonly startedAt: string;
  /** SHA-512 of `tagmanifest-sha512.txt`, which covers every file of the sitting; null where it is not sealed. */
  readonly seal: string | null;
  readonly isSealChecked: boolean;
  readonly tool: string;
  readonly runs: number;
}
