import { decodeLine, firstSum } from '../../journal/format.ts';
import { entryCheck, isCorrection } from '../../journal/reader.ts';
import type { Correction, RunRecord } from '../../model/run.ts';
import { followLines } from './follow-lines.ts';

const lastKept = 4;

/** What a journal says so far. */
export interface JournalSoFar {
  /** In the order of the journal, without their bulk: no accounting, steps, logs, telemetry, cooldown, parameters. */
  readonly runs: readonly RunRecord[];
  readonly corrections: readonly Correction[];
  /** The latest ones whole, oldest first. */
  readonly last: readonly RunRecord[];
  /** Runs in which the processor was slowed by heat. */
  readonly throttled: number;
  /** Of the processor in any run; null where nothing tells. */
  readonly highestCelsius: number | null;
  /** Why it cannot be read on; null while it can. A line that is being written is no damage. */
  readonly damage: string | null;
}

export interface JournalFollower {
  /** Reads what was appended since; the same object as before when that was nothing. */
  read(): Promise<JournalSoFar>;
}

/** Follows a `runs.jsonl` that another process appends to, or will make. Every line is checked as any reader does. */
export function followJournal(path: string): JournalFollower {
  const lines = followLines(path);
  let reading = new JournalReading(path);
  let soFar = reading.state();
  return {
    async read() {
      let isNew = false;
      const take = (line: Buffer): void => {
        isNew = true;
        reading.add(line);
      };
      await lines.read(take, () => {
        isNew = true;
        reading = new JournalReading(path);
      });
      if (isNew) soFar = reading.state();
      return soFar;
    },
  };
}

class JournalReading {
  readonly #check: ReturnType<typeof entryCheck>;
  readonly #runs: RunRecord[] = [];
  readonly #corrections: Correction[] = [];
  #last: readonly RunRecord[] = [];
  #throttled = 0;
  #highest: number | null = null;
  #damage: string | null = null;
  #sum = firstSum;
  #number = 0;

  constructor(path: string) {
    this.#check = entryCheck(path);
  }

  add(line: Buffer): void {
    if (this.#damage !== null) return;
    this.#number += 1;
    const decoded = decodeLine(line, 0, line.length, this.#sum);
    if (!decoded.ok) {
      this.#damage = `line ${this.#number}: ${decoded.reason}`;
      return;
    }
    const entry = this.#check(decoded.value, this.#number);
    if (!entry.ok) {
      this.#damage = `line ${this.#number}: ${entry.error.message}`;
      return;
    }
    this.#sum = decoded.sum;
    if (isCorrection(entry.value)) this.#corrections.push(entry.value);
    else this.#addRun(entry.value);
  }

  #addRun(record: RunRecord): void {
    const { telemetry } = record;
    const celsius = telemetry?.maxTemperature ?? null;
    if (celsius !== null) this.#highest = Math.max(this.#highest ?? celsius, celsius);
    if ((telemetry?.throttleEvents ?? 0) > 0) this.#throttled += 1;
    this.#last = [...this.#last, record].slice(-lastKept);
    this.#runs.push({
      ...record,
      ...{ parameters: null, accounting: null, cooldown: null },
      ...{ logs: null, steps: null, telemetry: null },
    });
  }

  state(): JournalSoFar {
    return {
      runs: [...this.#runs],
      corrections: [...this.#corrections],
      last: this.#last,
      throttled: this.#throttled,
      highestCelsius: this.#highest,
      damage: this.#damage,
    };
  }
}
