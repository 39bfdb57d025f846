import { stopSignals } from './stop-signals.ts';

/** Does work that a signal to this process ends early: then `leaving` is aborted, and the process goes on. */
export async function untilSignal<T>(work: (leaving: AbortSignal) => Promise<T>): Promise<T> {
  const leaving = new AbortController();
  const leave = (): void => leaving.abort();
  // Not `once`: what restores the cursor ends the process when it finds no other listener.
  for (const signal of stopSignals) process.on(signal, leave);
  try {
    return await work(leaving.signal);
  } finally {
    for (const signal of stopSignals) process.removeListener(signal, leave);
  }
}
