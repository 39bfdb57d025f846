import { uptime } from 'node:os';

/** Time as the runner sees it; tests put their own in. */
export interface Clock {
  /** Wall clock, for records. */
  now(): Date;
  /** Never steps backwards; any zero. */
  monotonicSeconds(): number;
  /** The same, but it goes on while the machine sleeps. Absent: the machine never does. */
  readonly uptimeSeconds?: () => number;
  /** Resolves after the time, or at once when the signal is aborted. */
  sleep(seconds: number, signal: AbortSignal): Promise<void>;
}

export const systemClock: Clock = {
  now: () => new Date(),
  monotonicSeconds: () => Number(process.hrtime.bigint()) / 1e9,
  uptimeSeconds: uptime,
  sleep(seconds, signal) {
    return new Promise((resolve) => {
      if (signal.aborted) return resolve();
      const finish = (): void => {
        clearTimeout(timer);
        signal.removeEventListener('abort', finish);
        resolve();
      };
      const timer = setTimeout(finish, seconds * 1000);
      signal.addEventListener('abort', finish, { once: true });
    });
  },
};
