import { basename } from 'node:path';
import type { Result } from '../../lib/result.ts';
import {
  type EndNotice,
  type EndOutcome,
  endNoticeSchema,
  type RefusalReason,
} from '../../model/end-notice.ts';
import type { SittingEvent } from '../../model/event.ts';
import { parkedWorkloads } from '../../model/parked-workloads.ts';
import type { RunRecord } from '../../model/run.ts';
import { standingRuns } from '../../model/standing-runs.ts';
import { renderEnd } from '../../report/end-text.ts';
import type { SittingOutcome } from '../run-sitting.ts';
import type { Refusal } from '../sitting/refusal.ts';

/** What a notice says of a sitting before anything is known of its end. */
export interface SittingSubject {
  readonly rig: string;
  readonly suite: string;
  readonly profile: string | null;
}

/** How the measuring ended: null for an internal error. */
export type SittingEnd = Result<SittingOutcome, Refusal> | null;

/** Makes the notice of a sitting's end; what a failure leaves untold is known from the events before. */
export class EndWatcher {
  readonly #subject: SittingSubject;
  #begun: { readonly folder: string; readonly runs: number } | null = null;
  readonly #parked = new Set<string>();
  readonly #records: RunRecord[] = [];

  constructor(subject: SittingSubject) {
    this.#subject = subject;
  }

  see(event: SittingEvent): void {
    if (event.type === 'sitting-started' || event.type === 'sitting-continued') {
      this.#begun = { folder: event.folder, runs: event.runs };
    }
    if (event.type === 'run-finished') this.#records.push(event.record);
    if (event.type === 'workload-parked') this.#parked.add(event.workload);
  }

  notice(end: SittingEnd, exitCode: number, at: Date): EndNotice {
    const measured = end?.ok ? end.value : null;
    const sitting = measured?.sitting ?? null;
    const runs = measured?.runs ?? this.#records;
    const folder = measured?.folder ?? this.#begun?.folder;
    const parked = sitting && parkedWorkloads(sitting.suite.resolved, runs).keys();
    const facts = {
      schema: endNoticeSchema,
      at: at.toISOString(),
      outcome: outcomeOf(end),
      reason: reasonOf(end),
      sitting: folder === undefined ? null : basename(folder),
      ...this.#subject,
      startedAt: sitting?.startedAt ?? null,
      endedAt: sitting?.endedAt ?? null,
      plannedRuns: sitting?.plan.runs.length ?? this.#begun?.runs ?? null,
      ...countRuns(runs),
      parked: [...(parked ?? this.#parked)],
      interruptions: sitting?.interruptions.length ?? 0,
      exitCode,
    } as const;
    return { ...facts, text: renderEnd(facts) };
  }
}

function outcomeOf(end: SittingEnd): EndOutcome {
  if (end === null) return 'internal-error';
  if (end.ok) return end.value.state;
  return end.error.kind === 'write-failed' ? 'write-failed' : 'refused';
}

function reasonOf(end: SittingEnd): RefusalReason | null {
  if (end === null || end.ok) return null;
  switch (end.error.kind) {
    case 'busy':
    case 'unfit':
    case 'changed':
      return end.error.kind;
    case 'bad-option':
    case 'bad-folder':
      return 'input';
    case 'gave-up':
      return 'unfit';
    case 'write-failed':
      return null;
  }
}

function countRuns(runs: readonly RunRecord[]) {
  const standing = standingRuns(runs, []);
  const count = (fits: (run: RunRecord) => boolean): number => runs.filter(fits).length;
  return {
    recordedRuns: standing.length,
    failedRuns: standing.filter(({ outcome }) => outcome === 'failed').length,
    retriedRuns: count(({ attempt }) => attempt > 1),
    disturbedRuns: count(({ disturbances }) => disturbances.length > 0),
    throttledRuns: count(({ telemetry }) => (telemetry?.throttleEvents ?? 0) > 0),
  };
}
