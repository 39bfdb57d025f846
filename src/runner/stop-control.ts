export type StopSignal = 'SIGINT' | 'SIGTERM' | 'SIGHUP';

/**
 * How a sitting is told to end early: the first request lets the run under way finish, the second ends it at once.
 * Waits (cooldowns) end at the first.
 */
export class StopControl {
  readonly #afterRun = new AbortController();
  readonly #now = new AbortController();
  #signal: StopSignal | null = null;

  /** What was asked first; null while nobody asked. */
  get signal(): StopSignal | null {
    return this.#signal;
  }

  /** Aborted by the first request. */
  get afterRun(): AbortSignal {
    return this.#afterRun.signal;
  }

  /** Aborted by the second request. */
  get now(): AbortSignal {
    return this.#now.signal;
  }

  /** Counts a request and tells what it means. */
  request(signal: StopSignal): 'after-run' | 'now' {
    if (this.#signal === null) {
      this.#signal = signal;
      this.#afterRun.abort();
      return 'after-run';
    }
    this.#now.abort();
    return 'now';
  }
}
