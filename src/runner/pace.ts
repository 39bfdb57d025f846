import type { RunRecord } from '../model/run.ts';

/** A run is expected to take the longest time so far of its workload and a tenth more. House rule, no source. */
const margin = 1.1;

/** How long the runs and cooldowns of a sitting took so far. */
export class Pace {
  readonly #longest = new Map<string, number>();
  readonly #cooldowns: number[] = [];

  /** Begins with the runs that are recorded already. */
  constructor(recorded: readonly RunRecord[]) {
    for (const run of recorded) {
      this.#runTook(run.workload, measuredSeconds(run));
      this.#noteCooldown(run);
    }
  }

  /** To be told of each run with the whole time it took, from its first file to its record on the disk. */
  runFinished(run: RunRecord, seconds: number): void {
    this.#runTook(run.workload, seconds);
    this.#noteCooldown(run);
  }

  /** Seconds that a run of a workload is expected to take; null where none was measured. */
  runSeconds(workload: string): number | null {
    const longest = this.#longest.get(workload);
    return longest === undefined ? null : longest * margin;
  }

  /** The usual length of a cooldown, their upper median so far; null before the first. */
  cooldownSeconds(): number | null {
    const sorted = [...this.#cooldowns].sort((a, b) => a - b);
    return sorted[Math.floor(sorted.length / 2)] ?? null;
  }

  #runTook(workload: string, seconds: number): void {
    if (seconds > (this.#longest.get(workload) ?? 0)) this.#longest.set(workload, seconds);
  }

  #noteCooldown({ cooldown }: RunRecord): void {
    if (cooldown !== null) this.#cooldowns.push(cooldown.seconds);
  }
}

/** Of its programs; 0 for a run that was lost or never started. */
function measuredSeconds({ accounting, steps }: RunRecord): number {
  if (steps === null) return accounting?.wallSeconds ?? 0;
  return steps.reduce((sum, step) => sum + (step.accounting?.wallSeconds ?? 0), 0);
}
