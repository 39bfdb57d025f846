import type { Basis, ComparisonFlag, Difference } from './comparison.ts';
import type { Direction, UnitCode } from './unit.ts';

export const gateSchema = 'steadyrig/gate/1';

/**
 * The gravest first. `worse`: by at least what is allowed, shown by the test after it was suspected and measured again in a fresh sitting. `better`: the same the other way. `held`: surely not
 * worse than allowed, or worse by less. `unsure`: cannot be told from so few sittings. `uncompared`: one side has no figure.
 */
export const gateFindings = ['worse', 'uncompared', 'unsure', 'better', 'held'] as const;
export type GateFinding = (typeof gateFindings)[number];

/** Whether a candidate may pass. */
export interface Gate {
  readonly schema: typeof gateSchema;
  /** Version of steadyrig. */
  readonly tool: string;
  /** The gravest finding of all figures. */
  readonly finding: GateFinding;
  readonly passes: boolean;
  readonly suite: {
    readonly id: string;
    readonly revision: number;
    readonly digest: string;
    /** As given. */
    readonly file: string;
  };
  /** Null where both sides were measured in turn. */
  readonly baseline: string | null;
  /** Ids, in order of time. */
  readonly baselineSittings: readonly string[];
  readonly candidateSittings: readonly string[];
  readonly confidence: number;
  /** What to do where nothing can be told: the policy asked for. */
  readonly whenUnsure: WhenUnsure;
  readonly rows: readonly GateRow[];
  /** What else differs between baseline and candidate. */
  readonly differences: readonly Difference[];
  /** For people. */
  readonly notes: readonly string[];
}

export const unsurePolicies = ['pass', 'fail', 'measure-more'] as const;
export type WhenUnsure = (typeof unsurePolicies)[number];

export interface GateRow {
  readonly workload: string;
  readonly metric: string;
  readonly unit: UnitCode;
  readonly better: Direction;
  readonly finding: GateFinding;
  /** How much worse it may be, a fraction. */
  readonly allowed: number;
  /** Of the workload in the suite file, from 1; null where it is not found. */
  readonly line: number | null;
  readonly baselineMean: number | null;
  readonly candidateMean: number | null;
  /** Above 1: the candidate is better. */
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly adjustedP: number | null;
  readonly basis: Basis | null;
  readonly flags: readonly ComparisonFlag[];
  /** A sentence one can act on. */
  readonly text: string;
}
