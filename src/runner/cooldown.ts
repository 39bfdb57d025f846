import type { CooldownRecord } from '../model/run.ts';
import type { Cooldown } from '../model/suite.ts';
import type { Clock } from './clock.ts';
import { coolToTemperature } from './heat/cool-to-temperature.ts';
import type { Thermometer } from './heat/thermometer.ts';

/**
 * Busy share of all CPUs (0 to 1) since the last call; null on the first call and where the kernel does not tell.
 */
export type LoadMeter = () => Promise<number | null>;

/** What a cooldown goes by. */
export interface CoolingSigns {
  readonly clock: Clock;
  readonly readLoad: LoadMeter;
  /** Null where nothing tells the processor's temperature. */
  readonly thermometer: Thermometer | null;
  /** Of the processor at rest; null where it was not learnt. */
  readonly idleCelsius: number | null;
}

const loadStepSeconds = 0.5;

/**
 * Waits before a run and tells how long, why it ended, and load and temperature at its end. Ends at once when the
 * signal is aborted.
 */
export async function coolDown(
  cooldown: Cooldown,
  signs: CoolingSigns,
  signal: AbortSignal,
): Promise<CooldownRecord> {
  const { clock, readLoad, thermometer } = signs;
  const start = clock.monotonicSeconds();
  await readLoad();
  const { ended, load } =
    cooldown.kind === 'load'
      ? await coolByLoad(cooldown, signs, signal)
      : { ended: await coolByTime(cooldown, signs, signal), load: await readLoad() };
  const celsius = thermometer?.celsius() ?? null;
  return { seconds: clock.monotonicSeconds() - start, ended, load, celsius };
}

async function coolByTime(
  cooldown: Exclude<Cooldown, { readonly kind: 'load' }>,
  signs: CoolingSigns,
  signal: AbortSignal,
): Promise<CooldownRecord['ended']> {
  if (cooldown.kind === 'temperature') return coolToTemperature(cooldown, signs, signal);
  await signs.clock.sleep(cooldown.seconds, signal);
  return 'time-passed';
}

async function coolByLoad(
  cooldown: Extract<Cooldown, { readonly kind: 'load' }>,
  { clock, readLoad }: CoolingSigns,
  signal: AbortSignal,
): Promise<Pick<CooldownRecord, 'ended' | 'load'>> {
  const start = clock.monotonicSeconds();
  const passed = (): number => clock.monotonicSeconds() - start;
  await clock.sleep(Math.max(cooldown.atLeastSeconds, loadStepSeconds), signal);
  let load = await readLoad();
  while (load !== null && load >= cooldown.below && !signal.aborted) {
    const left = cooldown.atMostSeconds - passed();
    if (left <= 0) return { ended: 'time-limit', load };
    await clock.sleep(Math.min(loadStepSeconds, left), signal);
    load = await readLoad();
  }
  if (load !== null) return { ended: 'load-settled', load };
  // Without a reading the longest time is the only safe wait.
  await clock.sleep(cooldown.atMostSeconds - passed(), signal);
  return { ended: 'sensor-missing', load: null };
}

/** The longest a cooldown can take. */
export function cooldownAtMostSeconds(cooldown: Cooldown): number {
  switch (cooldown.kind) {
    case 'fixed':
      return cooldown.seconds;
    case 'load':
      return cooldown.atMostSeconds;
    case 'temperature':
      return Math.max(cooldown.atMostSeconds, cooldown.withoutSensorSeconds);
  }
}
