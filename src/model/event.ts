import type { Finding } from './finding.ts';
import type { PlannedRun } from './plan.ts';
import type { CooldownRecord, RunRecord } from './run.ts';
import type { SittingState } from './sitting.ts';
import type { Input } from './suite.ts';

/** What a sitting tells while it is under way; screens and logs are made from these alone. */
export type SittingEvent =
  /** What the checks found and let pass; before anything is prepared. */
  | { readonly type: 'rig-checked'; readonly findings: readonly Finding[] }
  /** Before the sitting starts: an input that is not in the cache is generated or unpacked. */
  | { readonly type: 'input-preparing'; readonly name: string; readonly input: Input }
  | {
      readonly type: 'sitting-started';
      readonly folder: string;
      readonly runs: number;
      readonly estimateSeconds: number;
    }
  /** Taken up again: `done` of its runs need nothing more. */
  | {
      readonly type: 'sitting-continued';
      readonly folder: string;
      readonly runs: number;
      readonly done: number;
      /** Of the runs still to come. */
      readonly estimateSeconds: number;
    }
  | { readonly type: 'cooldown-started'; readonly next: PlannedRun; readonly atMostSeconds: number }
  | {
      readonly type: 'cooldown-ended';
      readonly next: PlannedRun;
      readonly cooldown: CooldownRecord;
    }
  | { readonly type: 'run-started'; readonly run: PlannedRun; readonly pid: number }
  /** A step of a scripted run has started; the first one just after its run. */
  | { readonly type: 'step-started'; readonly run: PlannedRun; readonly step: string }
  | { readonly type: 'run-finished'; readonly run: PlannedRun; readonly record: RunRecord }
  /** An adaptive repeat that was not needed. */
  | { readonly type: 'run-left-out'; readonly run: PlannedRun; readonly reason: string }
  /** Something to tell once, such as a sensor that is missing. */
  | { readonly type: 'notice'; readonly message: string }
  /** The planned run is tried again; what there is of it stays recorded. */
  | { readonly type: 'run-retried'; readonly run: PlannedRun; readonly reason: string }
  /** No more runs of this workload: too many failed in a row. */
  | { readonly type: 'workload-parked'; readonly workload: string; readonly reason: string }
  | { readonly type: 'stop-requested'; readonly signal: string; readonly how: 'after-run' | 'now' }
  /** A figure read by hand is wanted; the answer comes through the operator port. */
  | { readonly type: 'figure-wanted'; readonly run: PlannedRun }
  | { readonly type: 'left-for-later'; readonly run: PlannedRun; readonly reason: string }
  | { readonly type: 'sealing' }
  | {
      readonly type: 'sitting-ended';
      readonly folder: string;
      readonly state: Exclude<SittingState, 'open'>;
      readonly failedRuns: number;
    };
