import type { Clock } from '../../src/runner/clock.ts';

export interface DrivenClock extends Clock {
  /** Lets time pass, waking sleepers on the way in the order of their times; what they start is let finish. */
  pass(seconds: number): Promise<void>;
  /** Moves the wall clock alone, as setting the time does. */
  setWall(date: Date): void;
}

/** A clock that only the test moves. */
export function drivenClock(startSeconds = 1000): DrivenClock {
  let monotonic = startSeconds;
  let wallMinusMonotonic = Date.parse('2024-11-05T10:00:00Z') / 1000 - startSeconds;
  const sleepers: { readonly until: number; readonly wake: () => void }[] = [];
  const wakeUntil = async (end: number): Promise<void> => {
    for (;;) {
      await settle();
      sleepers.sort((a, b) => a.until - b.until);
      const next = sleepers[0];
      if (next === undefined || next.until > end) break;
      sleepers.shift();
      monotonic = Math.max(monotonic, next.until);
      next.wake();
    }
    monotonic = end;
  };
  return {
    now: () => new Date((monotonic + wallMinusMonotonic) * 1000),
    monotonicSeconds: () => monotonic,
    sleep: (seconds, signal) =>
      new Promise((resolve) => {
        if (signal.aborted) return resolve();
        const wake = (): void => {
          signal.removeEventListener('abort', wake);
          resolve();
        };
        sleepers.push({ until: monotonic + seconds, wake });
        signal.addEventListener('abort', wake, { once: true });
      }),
    pass: (seconds) => wakeUntil(monotonic + seconds),
    setWall: (date) => {
      wallMinusMonotonic = date.getTime() / 1000 - monotonic;
    },
  };
}

/** Lets all promises go on that wait for nothing but one another. */
export function settle(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}
