import { correctedRuns } from '../model/corrected-runs.ts';
import type { Correction, RunRecord } from '../model/run.ts';

/** Where a ledger's entries go; each resolves once the entry is on the disk. */
export interface LedgerSink {
  readonly append: (record: RunRecord) => Promise<void>;
  readonly correct: (correction: Correction) => Promise<void>;
}

/** What a sitting has recorded so far. Nothing is in it that is not on the disk. */
export class Ledger {
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

  /** As first recorded. */
  get runs(): readonly RunRecord[] {
    return this.#runs;
  }

  get corrections(): readonly Correction[] {
    return this.#corrections;
  }

  /** With every correction applied. */
  get standing(): readonly RunRecord[] {
    return correctedRuns(this.#runs, this.#corrections);
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
