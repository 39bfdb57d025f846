import { performance } from 'node:perf_hooks';

/** How a collector ended, with what it gave; null when it failed. */
export interface Collected<T> {
  readonly seconds: number;
  readonly value: T | null;
  readonly failure: string | null;
}

/**
 * Outcome of `work`, at the latest when the time is up; never rejects. Work that hangs is left behind: a read that
 * the kernel does not return from cannot be taken back.
 */
export async function runCollector<T>(
  work: () => Promise<T>,
  limitSeconds: number,
): Promise<Collected<T>> {
  const started = performance.now();
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<string>((resolve) => {
    timer = setTimeout(
      () => resolve(`did not finish within ${limitSeconds} s`),
      limitSeconds * 1000,
    );
  });
  const done = Promise.resolve()
    .then(work)
    .then(
      (value) => ({ value }),
      (error: unknown) => failureText(error),
    );
  const outcome = await Promise.race([done, late]);
  clearTimeout(timer);
  const seconds = (performance.now() - started) / 1000;
  return typeof outcome === 'string'
    ? { seconds, value: null, failure: outcome }
    : { seconds, value: outcome.value, failure: null };
}

/** Kind of error only: messages may quote paths and texts that may not be recorded. */
function failureText(error: unknown): string {
  if (!(error instanceof Error)) return 'failed';
  return 'code' in error && typeof error.code === 'string'
    ? `failed: ${error.code}`
    : `failed: ${error.name}`;
}
