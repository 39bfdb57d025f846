import type { Factor } from './campaign.ts';
import type {
  ComparisonFlag,
  ComparisonSide,
  Difference,
  SideChange,
  Unmatched,
} from './comparison.ts';
import type { ComparedRig } from './comparison-request.ts';
import type { PrecisionStudy } from './precision.ts';
import type { Direction, UnitCode } from './unit.ts';

export const effectsSchema = 'steadyrig/effects/1';

/** What is asked: pure data, made by whoever reads result folders. */
export interface EffectsRequest {
  /** In the order in which they are told; null: those whose levels the sittings state. */
  readonly factors: readonly Factor[] | null;
  /** The first with a finished sitting is the baseline: its levels come first. */
  readonly rigs: readonly EffectRig[];
  readonly confidence: number;
  /** Difference that matters, a fraction; null: that of the suite. */
  readonly matters: number | null;
  readonly allowRevision: boolean;
  readonly studies: readonly PrecisionStudy[];
  /**
   * Interactions of up to so many factors are looked at; null: of all. What is left out is taken to be nothing, and serves as the error
   * where no sitting is repeated and no study covers it.
   */
  readonly order: number | null;
}

export interface EffectRig extends ComparedRig {
  /** A level for each factor; null: as its sittings state them. */
  readonly levels: Readonly<Record<string, string>> | null;
}

/** What the factors of a design do to every figure, and how far that may be called a cause. */
export interface Effects {
  readonly schema: typeof effectsSchema;
  /** Those that vary between the rigs; the first level is the baseline's. */
  readonly factors: readonly Factor[];
  /** Factors that are the same in all rigs: nothing can be said of them. */
  readonly constant: readonly string[];
  readonly rigs: readonly ComparisonSide[];
  readonly confidence: number;
  readonly matters: number;
  /** Of the p values, over all effects of all metrics together. */
  readonly adjust: 'holm';
  /** Interactions of up to so many factors. */
  readonly order: number;
  readonly metrics: readonly MetricEffects[];
  /** What would tell apart what these rigs mix. */
  readonly separate: readonly Separation[];
  /** Of every rig to the first: any that is not declared takes the word cause from all effects. */
  readonly differences: readonly Difference[];
  readonly changes: readonly SideChange[];
  readonly unmatched: readonly Unmatched[];
  readonly flags: readonly ComparisonFlag[];
}

/**
 * Where the error comes from. `sittings`: spread of repeated sittings, pooled within rigs. `precision-study`: a study. `left-out`:
 * interactions of more factors than were looked at, taken to be nothing. `none`: nothing tells how far sittings lie apart.
 */
export const effectBases = ['sittings', 'precision-study', 'left-out', 'none'] as const;
export type EffectBasis = (typeof effectBases)[number];

export interface MetricEffects {
  readonly workload: string;
  readonly metric: string;
  readonly unit: UnitCode;
  readonly better: Direction;
  readonly rigs: number;
  readonly sittings: number;
  readonly basis: EffectBasis;
  /** Standard deviation of the log of a sitting's mean; null without a basis. */
  readonly spread: number | null;
  readonly df: number | null;
  /** Main effects first; an interaction that is wholly mixed with an earlier effect stands only there. */
  readonly effects: readonly FactorEffect[];
  readonly flags: readonly ComparisonFlag[];
}

/**
 * `shown`: the adjusted p rejects that there is none. `alike`: surely smaller than what matters. `open`: neither. `voided`: the
 * baseline drifted by more. `untested`: no error to judge it by. `untold`: these rigs say nothing of it.
 */
export const effectFindings = ['shown', 'alike', 'open', 'voided', 'untested', 'untold'] as const;
export type EffectFinding = (typeof effectFindings)[number];

export interface FactorEffect {
  /** One: a main effect; more: an interaction. */
  readonly factors: readonly string[];
  /**
   * Of a main effect each level against the first, over the levels of the others; of an interaction of factors with two levels each,
   * half the difference of its simple effects (NIST/SEMATECH e-Handbook 5.4.7.1); of other interactions none.
   */
  readonly contrasts: readonly EffectContrast[];
  /** Of a factor whose effect depends on others: the same with each of their levels. */
  readonly simple: readonly EffectContrast[];
  readonly df: number;
  readonly p: number | null;
  readonly adjustedP: number | null;
  /** Effects that these rigs cannot tell from it. */
  readonly mixedWith: readonly string[];
  readonly finding: EffectFinding;
  /** For people. */
  readonly sentence: string;
}

export interface EffectContrast {
  /** Null for interactions. */
  readonly from: string | null;
  readonly to: string | null;
  /** Levels of other factors that it holds at; empty: over all of them. */
  readonly at: Readonly<Record<string, string>>;
  /** Above 1: `to` is better, whatever the direction of the metric. */
  readonly ratio: number;
  /** Interval; null where nothing tells the error. */
  readonly low: number | null;
  readonly high: number | null;
}

export interface Separation {
  readonly mixed: readonly string[];
  /** Rigs to add, by their levels. */
  readonly add: readonly Readonly<Record<string, string>>[];
}
