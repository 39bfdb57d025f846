import type { Accounting, CapturedStream, Exit, MeterName, Stop } from './meter.ts';
import type { Parameters } from './suite.ts';
import type { RunTelemetry } from './telemetry.ts';
import type { Direction, UnitCode } from './unit.ts';

export const runSchema = 'steadyrig/run/1';

/** One finished run: a line of `runs.jsonl`. Failed and aborted runs are lines like the others. */
export interface RunRecord {
  readonly schema: typeof runSchema;
  /** Position of the planned run. */
  readonly plan: number;
  /** From 1. Above 1 a planned run was tried again; every attempt stays, and the last one counts. */
  readonly attempt: number;
  readonly phase: 'warm-up' | 'repeat';
  readonly round: number;
  readonly workload: string;
  /** As passed to a shipped workload, `threads: all` resolved; null for a command. */
  readonly parameters: Parameters | null;
  /** RFC 3339, UTC. */
  readonly startedAt: string;
  /** Monotonic, since this boot's part of the sitting began. */
  readonly sinceStartSeconds: number;
  readonly bootId: string | null;
  /** Null for a figure read by hand or imported: nothing of ours was there. */
  readonly meter: MeterName | null;
  readonly outcome: 'ok' | 'failed';
  /** Null exactly when the outcome is ok. */
  readonly failure: RunFailure | null;
  /** Null when the program was never started. */
  readonly exit: Exit | null;
  readonly stopped: Stop | null;
  readonly accounting: Accounting | null;
  readonly leftBehind: number;
  /** One for each metric of the workload; empty for a failed run. */
  readonly metrics: readonly MetricValue[];
  /** What else went on in the rig before or while it ran; empty when nothing was noticed. */
  readonly disturbances: readonly Disturbance[];
  /** The wait before this run; null before the first. */
  readonly cooldown: CooldownRecord | null;
  readonly logs: { readonly stdout: LogRecord; readonly stderr: LogRecord } | null;
  /** State the page cache was brought into before the run; null: left as it was. */
  readonly pageCache: 'warm' | 'cold' | null;
  /** Of a scripted workload, in the order they ran; null for others. `accounting` above is then that of the timed steps together. */
  readonly steps: readonly StepRecord[] | null;
  /** What the sensors said of the run, of a scripted one from its first timed step to its last. Null without telemetry. */
  readonly telemetry: RunTelemetry | null;
  /** Of a figure read by hand or imported; null for a measured run. */
  readonly entry: EntryRecord | null;
}

export interface StepRecord {
  readonly id: string;
  readonly part: 'set-up' | 'step' | 'check' | 'tear-down';
  readonly exit: Exit | null;
  readonly stopped: Stop | null;
  readonly accounting: Accounting | null;
  readonly leftBehind: number;
  readonly failure: RunFailure | null;
  readonly logs: RunRecord['logs'];
}

export interface EntryRecord {
  readonly by: 'operator' | 'file' | 'import';
  /** True when the operator was asked about an unusual figure and kept it. */
  readonly confirmed: boolean;
}

export const correctionSchema = 'steadyrig/correction/1';

/** A corrected figure: a journal line of its own. The run it corrects stays as it was written. */
export interface Correction {
  readonly schema: typeof correctionSchema;
  /** The planned run. */
  readonly plan: number;
  readonly metric: string;
  /** Base unit. */
  readonly from: number;
  readonly to: number;
  readonly reason: string;
  /** RFC 3339, UTC. */
  readonly at: string;
}

export interface MetricValue {
  readonly id: string;
  readonly value: number;
  readonly unit: UnitCode;
  readonly better: Direction;
  /** `below`: the true figure is under this value. */
  readonly bound?: 'below';
}

export interface RunFailure {
  readonly code: RunFailureCode;
  readonly message: string;
}

/** Every code is explained in README.md; a test checks that. */
export const runFailureCodes = [
  'program-not-found',
  'program-not-executable',
  'program-not-started',
  'time-limit',
  'output-limit',
  'temperature-limit',
  'stopped-by-operator',
  'ended-by-signal',
  'unexpected-exit-code',
  'wrong-output',
  'metric-not-found',
  'step-failed',
  'input-not-prepared',
  'lost',
] as const;
export type RunFailureCode = (typeof runFailureCodes)[number];

/** Something that went on beside a run and may have changed its figures. Noticed without looking at them. */
export interface Disturbance {
  readonly code: DisturbanceCode;
  /** For people: what was found. Names no user and no host. */
  readonly message: string;
}

/** Every code is explained in README.md; a test checks that. */
export const disturbanceCodes = [
  'load',
  'swap',
  'login',
  'suspended',
  'clock-set',
  'unfit',
] as const;
export type DisturbanceCode = (typeof disturbanceCodes)[number];

export interface CooldownRecord {
  readonly seconds: number;
  readonly ended:
    | 'time-passed'
    | 'load-settled'
    | 'temperature-reached'
    | 'time-limit'
    | 'sensor-missing';
  /** Of the processor at its end; null where nothing tells. */
  readonly celsius: number | null;
  /** Busy share of all CPUs at its end, 0 to 1; null where it could not be read. */
  readonly load: number | null;
}

export interface LogRecord extends CapturedStream {
  /** Relative to the sitting's data folder. */
  readonly path: string;
  /** Places taken out of the kept text: addresses, host and user names, home paths. */
  readonly redactions: number;
}
