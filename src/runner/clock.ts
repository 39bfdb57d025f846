/** Time as the runner sees it; tests put their own in. */
export interface Clock {
  /** Wall clock, for records. */
  now(): Date;
  /** Never steps backwards; any zero. */
  monotonicSeconds(): number;
  /** Resolves after the time, or at once when the signal is aborted. */
  sleep(seconds: number, signal: AbortSignal): Promise<void>;
}

export const systemClock: Clock = {
  now: () => new Date(),
  monotonicSeconds: () => Number(process.hrtime.bigint()) / 1e9,
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
