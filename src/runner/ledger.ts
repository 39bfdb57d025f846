import { attemptsByPlan } from '../model/attempts.ts';
import type { Correction, RunRecord } from '../model/run.ts';
import { standingRuns } from '../model/standing-runs.ts';

/** What is on the disk. */
export interface Recorded {
  /** Every attempt, as first recorded. */
  readonly runs: readonly RunRecord[];
  readonly corrections: readonly Correction[];
}

/** Where a ledger's entries go; each resolves once the entry is on the disk. */
export interface LedgerSink {
  readonly append: (record: RunRecord) => Promise<void>;
  readonly correct: (correction: Correction) => Promise<void>;
}

/** What a sitting has recorded so far. Nothing is in it that is not on the disk. */
export class Ledger implements Recorded {
  readonly #sink: LedgerSink;
  readonly #runs: RunRecord[];
  readonly #corrections: Correction[];

  constructor(
    sink: LedgerSink,
    runs: readonly RunRecord[],
    corrections: readonly Correction[] = [],
  ) {
    this.#sink = sink;
    this.#runs = [...runs];
    this.#corrections = [...corrections];
  }

  get runs(): readonly RunRecord[] {
    return this.#runs;
  }

  get corrections(): readonly Correction[] {
    return this.#corrections;
  }

  /** The runs that count, with every correction applied. */
  get standing(): readonly RunRecord[] {
    return standingRuns(this.#runs, this.#corrections);
  }

  /** Number of the next attempt at a planned run. */
  nextAttempt(plan: number): number {
    return (attemptsByPlan(this.#runs).get(plan)?.at(-1)?.attempt ?? 0) + 1;
  }

  async record(run: RunRecord): Promise<void> {
    await this.#sink.append(run);
    this.#runs.push(run);
  }

  async correct(correction: Correction): Promise<void> {
    await this.#sink.correct(correction);
    this.#corrections.push(correction);
  }
}
