import { type MeterRequest, type Stop, stopOrder } from '../../model/meter.ts';
import type { CapturedLog } from './captured-log.ts';

/** A program that is running, as far as stopping it goes. */
export interface StopTarget {
  /** To the whole group. */
  signal(name: NodeJS.Signals): void;
  /** Whether any of its group still runs. */
  isGroupAlive(): boolean;
}

type Limits = Pick<
  MeterRequest,
  'timeLimitSeconds' | 'outputLimitBytes' | 'graceSeconds' | 'abort'
>;

const firstPollMilliseconds = 10;
const longestPollMilliseconds = 250;
const stoppingPollMilliseconds = 10;
/** A program's helpers that are ending by themselves may take this long before they count as left behind. */
const settleMilliseconds = 50;
const killedMilliseconds = 1000;
const longestTimerMilliseconds = 2 ** 31 - 1;

/**
 * Ends a run at its limits: the first cause is kept, the group gets SIGTERM and after the grace time SIGKILL.
 * Wakes rarely: output is looked at by fstat, more often only as it grows towards its limit.
 */
export class RunStopper {
  readonly #limits: Limits;
  readonly #logs: readonly CapturedLog[];
  readonly #target: StopTarget;
  readonly #onAbort = (): void => this.#stop(stopOrder(this.#limits.abort)?.cause ?? 'operator');
  #cause: Stop['cause'] | null = null;
  #forced = false;
  #ended = false;
  #stoppedAt = 0;
  #pollMilliseconds = firstPollMilliseconds;
  #seenBytes = 0;
  #timers = new Map<'limit' | 'poll' | 'kill', NodeJS.Timeout>();

  constructor(limits: Limits, logs: readonly CapturedLog[], target: StopTarget) {
    this.#limits = limits;
    this.#logs = logs;
    this.#target = target;
  }

  /** Starts the clock of the time limit. */
  begin(): void {
    const { abort, timeLimitSeconds } = this.#limits;
    abort.addEventListener('abort', this.#onAbort, { once: true });
    this.#after('limit', timeLimitSeconds * 1000, () => this.#stop('time-limit'));
    this.#after('poll', this.#pollMilliseconds, () => this.#poll());
    if (abort.aborted) this.#onAbort();
  }

  /**
   * To be called when the program itself has ended: waits for the rest of its group, for the grace time if it was
   * stopped and else only a moment, then ends all watching. What stopped the run; null when nothing did.
   */
  async programEnded(): Promise<Stop | null> {
    this.#ended = true;
    this.#clear('limit');
    this.#clear('kill');
    const deadline = this.#settleDeadline();
    while (this.#target.isGroupAlive() && performance.now() < deadline) {
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
    this.close();
    if (this.#cause === null) return null;
    return { cause: this.#cause, forced: this.#forced || this.#target.isGroupAlive() };
  }

  close(): void {
    for (const name of this.#timers.keys()) this.#clear(name);
    this.#limits.abort.removeEventListener('abort', this.#onAbort);
  }

  #settleDeadline(): number {
    if (this.#cause === null) return performance.now() + settleMilliseconds;
    if (this.#forced) return performance.now() + killedMilliseconds;
    return this.#stoppedAt + this.#limits.graceSeconds * 1000;
  }

  #stop(cause: Stop['cause']): void {
    if (this.#cause !== null || this.#ended) return;
    this.#cause = cause;
    this.#stoppedAt = performance.now();
    this.#target.signal('SIGTERM');
    // A stopped process would not see it otherwise.
    this.#target.signal('SIGCONT');
    this.#after('kill', this.#limits.graceSeconds * 1000, () => {
      this.#forced = true;
      this.#target.signal('SIGKILL');
    });
    this.#after('poll', 0, () => this.#poll());
  }

  #poll(): void {
    const bytes = this.#logs.reduce((sum, log) => sum + log.bytes, 0);
    const left = this.#limits.outputLimitBytes - bytes;
    if (left < 0) this.#stop('output-limit');
    if (this.#cause === 'output-limit' || left < 0) {
      for (const log of this.#logs) log.cut();
    }
    this.#pollMilliseconds =
      this.#cause === null ? this.#nextPoll(bytes, left) : stoppingPollMilliseconds;
    this.#seenBytes = bytes;
    this.#after('poll', this.#pollMilliseconds, () => this.#poll());
  }

  /** A quarter of the time in which the limit is reached if the output goes on as since the last look. */
  #nextPoll(bytes: number, left: number): number {
    const bytesPerMillisecond = (bytes - this.#seenBytes) / this.#pollMilliseconds;
    const expected =
      bytesPerMillisecond > 0 ? left / bytesPerMillisecond / 4 : Number.POSITIVE_INFINITY;
    const calm = Math.min(this.#pollMilliseconds * 1.5, longestPollMilliseconds);
    return Math.max(5, Math.min(expected, calm));
  }

  #after(name: 'limit' | 'poll' | 'kill', milliseconds: number, action: () => void): void {
    this.#clear(name);
    this.#timers.set(name, setTimeout(action, Math.min(milliseconds, longestTimerMilliseconds)));
  }

  #clear(name: 'limit' | 'poll' | 'kill'): void {
    clearTimeout(this.#timers.get(name));
    this.#timers.delete(name);
  }
}
