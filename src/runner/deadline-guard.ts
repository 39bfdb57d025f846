import type { SittingEvent } from '../model/event.ts';
import type { RunRecord } from '../model/run.ts';
import type { Cooldown, Workload } from '../model/suite.ts';
import type { Clock } from './clock.ts';
import type { Deadline } from './deadline.ts';
import { Pace } from './pace.ts';
import type { StopControl } from './stop-control.ts';

const longestSleepSeconds = 60;

interface DeadlineSetting {
  readonly deadline: Deadline | null;
  readonly clock: Clock;
  readonly stop: StopControl;
  readonly emit: (event: SittingEvent) => void;
}

/**
 * Lets no run start that is not expected to end before the deadline, and ends the sitting there. What is expected: the
 * longest run of the workload so far and a tenth more, or what is assumed of one that was never measured; with a cooldown
 * ahead, the usual length of those so far too. A shorter run that would still fit is not put in its place, so that all
 * workloads of whole shuffled rounds have the same number of repeats, give or take one.
 */
export class DeadlineGuard {
  readonly #cooldown: Cooldown;
  readonly #setting: DeadlineSetting;
  readonly #pace: Pace;

  /** `recorded`: runs that the sitting has already. */
  constructor(cooldown: Cooldown, setting: DeadlineSetting, recorded: readonly RunRecord[]) {
    this.#cooldown = cooldown;
    this.#setting = setting;
    this.#pace = new Pace(recorded);
  }

  /** Whether there is time for a run; when not, the sitting is told to end. */
  allows(workload: Workload, hasCooldown: boolean): boolean {
    const { deadline, stop, emit } = this.#setting;
    if (deadline === null) return true;
    const run = this.#pace.runSeconds(workload.id) ?? deadline.assumedRunSeconds(workload);
    const wait = this.#pace.cooldownSeconds() ?? leastSeconds(this.#cooldown);
    const needed = run + (hasCooldown ? wait : 0);
    const left = deadline.secondsLeft();
    if (left >= needed) return true;
    emit({ type: 'notice', message: overText(workload.id, left, needed) });
    stop.end('deadline');
    return false;
  }

  /** To be called when a run starts, and what it returns when its record is on the disk. */
  startRun(): (record: RunRecord) => void {
    const { clock } = this.#setting;
    const start = clock.monotonicSeconds();
    return (record) => this.#pace.runFinished(record, clock.monotonicSeconds() - start);
  }

  /** Does work that waits for a person; at the deadline the sitting is told to end. */
  async untilOver<T>(work: () => Promise<T>): Promise<T> {
    const { deadline } = this.#setting;
    if (deadline === null) return work();
    const done = new AbortController();
    void this.#endAt(deadline, done.signal);
    try {
      return await work();
    } finally {
      done.abort();
    }
  }

  /** Looks again and again: a timer stands still while the machine sleeps, and the time left does not. */
  async #endAt(deadline: Deadline, done: AbortSignal): Promise<void> {
    const { clock, stop } = this.#setting;
    for (let left = deadline.secondsLeft(); left > 0; left = deadline.secondsLeft()) {
      await clock.sleep(Math.min(left, longestSleepSeconds), done);
      if (done.aborted) return;
    }
    stop.end('deadline');
  }
}

function overText(workload: string, left: number, needed: number): string {
  const time = left > 0 ? `${left.toFixed(1)} s are left` : 'its deadline has passed';
  return `the time of the sitting is over: ${time}, and ${workload} needs about ${needed.toFixed(1)} s`;
}

/** Checked again once it is over, so a longer one lets no run start too late. */
function leastSeconds(cooldown: Cooldown): number {
  return cooldown.kind === 'fixed' ? cooldown.seconds : cooldown.atLeastSeconds;
}
