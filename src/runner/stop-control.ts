import type { InterruptionCause } from '../model/sitting.ts';

export type StopSignal = 'SIGINT' | 'SIGTERM' | 'SIGHUP';

/**
 * How a sitting is told to end early: the first request lets the run under way finish, the second ends it at once.
 * Waits (cooldowns) end at the first.
 */
export class StopControl {
  readonly #afterRun = new AbortController();
  readonly #now = new AbortController();
  #signal: StopSignal | null = null;
  #cause: InterruptionCause | null = null;

  /** What was asked first; null while nobody asked. */
  get signal(): StopSignal | null {
    return this.#signal;
  }

  /** Why the sitting ends early, whoever asked first; null while nobody did. */
  get cause(): InterruptionCause | null {
    return this.#cause;
  }

  /** Aborted by the first request. */
  get afterRun(): AbortSignal {
    return this.#afterRun.signal;
  }

  /** Aborted by the second request. */
  get now(): AbortSignal {
    return this.#now.signal;
  }

  /** Lets the run under way finish and the sitting end, for a cause of our own. */
  end(cause: InterruptionCause): void {
    this.#cause ??= cause;
    this.#afterRun.abort();
  }

  /** Counts a request and tells what it means. */
  request(signal: StopSignal): 'after-run' | 'now' {
    if (this.#signal === null) {
      this.#signal = signal;
      this.end(signal);
      return 'after-run';
    }
    this.#now.abort();
    return 'now';
  }
}
