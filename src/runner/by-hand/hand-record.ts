import type { PlannedRun } from '../../model/plan.ts';
import {
  type CooldownRecord,
  type EntryRecord,
  type MetricValue,
  type RunRecord,
  runSchema,
} from '../../model/run.ts';

/** What is known of a run read by hand beside its figures. */
export interface HandFacts {
  /** Above 1 only after an attempt that was lost. */
  readonly attempt: number;
  /** RFC 3339, UTC: when it was asked for, or taken from a file. */
  readonly startedAt: string;
  readonly sinceStartSeconds: number;
  /** Null where nobody knows: a figure from a file. */
  readonly bootId: string | null;
  readonly cooldown: CooldownRecord | null;
  readonly entry: EntryRecord;
}

/** The record of a run that nothing of ours measured. */
export function handRecord(
  run: PlannedRun,
  metrics: readonly MetricValue[],
  facts: HandFacts,
): RunRecord {
  return {
    schema: runSchema,
    plan: run.index,
    attempt: facts.attempt,
    phase: run.phase,
    round: run.round,
    workload: run.workload,
    parameters: null,
    startedAt: facts.startedAt,
    sinceStartSeconds: facts.sinceStartSeconds,
    bootId: facts.bootId,
    meter: null,
    outcome: 'ok',
    failure: null,
    exit: null,
    stopped: null,
    accounting: null,
    leftBehind: 0,
    metrics,
    disturbances: [],
    cooldown: facts.cooldown,
    logs: null,
    pageCache: null,
    steps: null,
    telemetry: null,
    entry: facts.entry,
  };
}
