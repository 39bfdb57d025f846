import type { CooldownRecord } from '../model/run.ts';
import type { Cooldown } from '../model/suite.ts';
import type { Clock } from './clock.ts';

/**
 * Busy share of all CPUs (0 to 1) since the last call; null on the first call and where the kernel does not tell.
 */
export type LoadMeter = () => Promise<number | null>;

const loadStepSeconds = 0.5;

/** Waits before a run and tells how long, why it ended and the load at its end. Ends at once when the signal is aborted. */
export async function coolDown(
  cooldown: Cooldown,
  clock: Clock,
  readLoad: LoadMeter,
  signal: AbortSignal,
): Promise<CooldownRecord> {
  const start = clock.monotonicSeconds();
  const passed = (): number => clock.monotonicSeconds() - start;
  await readLoad();
  if (cooldown.kind === 'fixed') {
    await clock.sleep(cooldown.seconds, signal);
    return { seconds: passed(), ended: 'time-passed', load: await readLoad(), celsius: null };
  }
  if (cooldown.kind === 'temperature') throw new Error('internal error: no thermometer here');
  await clock.sleep(Math.max(cooldown.atLeastSeconds, loadStepSeconds), signal);
  let load = await readLoad();
  while (load !== null && load >= cooldown.below && !signal.aborted) {
    const left = cooldown.atMostSeconds - passed();
    if (left <= 0) return { seconds: passed(), ended: 'time-limit', load, celsius: null };
    await clock.sleep(Math.min(loadStepSeconds, left), signal);
    load = await readLoad();
  }
  if (load !== null) return { seconds: passed(), ended: 'load-settled', load, celsius: null };
  // Without a reading the longest time is the only safe wait.
  await clock.sleep(cooldown.atMostSeconds - passed(), signal);
  return { seconds: passed(), ended: 'sensor-missing', load: null, celsius: null };
}

/** The longest a cooldown can take. */
export function cooldownAtMostSeconds(cooldown: Cooldown): number {
  return cooldown.kind === 'fixed' ? cooldown.seconds : cooldown.atMostSeconds;
}
