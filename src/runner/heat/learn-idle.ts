import type { Clock } from '../clock.ts';
import type { LoadMeter } from '../cooldown.ts';
import type { Thermometer } from './thermometer.ts';

/** What the processor's temperature at rest was found to be. */
export interface IdleTemperature {
  /** Cel; null where no sensor told. */
  readonly celsius: number | null;
  readonly seconds: number;
  /** `time-limit`: it was not at rest by then, so the figure is too high if anything. */
  readonly ended: 'settled' | 'time-limit' | 'sensor-missing' | 'stopped';
}

/** Common practice, no source: long enough to see heat leave a cooler, short enough to wait for. */
export const idleLeastSeconds = 20;
export const idleMostSeconds = 300;
const stepSeconds = 1;
const windowSize = 10;
/** Less of a fall than this from one window to the next is within the noise of a machine at rest. */
const fallKelvin = 0.3;
const quietLoad = 0.2;
const patienceSteps = 5;

/** Waits until the machine is quiet and its processor's temperature falls no longer; ends at once when aborted. */
export async function learnIdle(
  thermometer: Thermometer,
  clock: Clock,
  readLoad: LoadMeter,
  signal: AbortSignal,
): Promise<IdleTemperature> {
  const start = clock.monotonicSeconds();
  const readings: number[] = [];
  const loads: number[] = [];
  let missing = 0;
  const end = (ended: IdleTemperature['ended']): IdleTemperature => ({
    celsius: ended === 'stopped' || ended === 'sensor-missing' ? null : rounded(readings),
    seconds: clock.monotonicSeconds() - start,
    ended,
  });
  await readLoad();
  for (;;) {
    await clock.sleep(stepSeconds, signal);
    if (signal.aborted) return end('stopped');
    const celsius = thermometer.celsius();
    missing = celsius === null ? missing + 1 : 0;
    if (missing >= patienceSteps) return end('sensor-missing');
    if (celsius !== null) readings.push(celsius);
    loads.push((await readLoad()) ?? 0);
    const passed = clock.monotonicSeconds() - start;
    if (passed >= idleLeastSeconds && isAtRest(readings, loads)) return end('settled');
    if (passed >= idleMostSeconds) return end('time-limit');
  }
}

function isAtRest(readings: readonly number[], loads: readonly number[]): boolean {
  if (readings.length < 2 * windowSize) return false;
  const before = mean(readings.slice(-2 * windowSize, -windowSize));
  const fall = before - mean(readings.slice(-windowSize));
  return fall < fallKelvin && mean(loads.slice(-windowSize)) < quietLoad;
}

function rounded(readings: readonly number[]): number {
  return Math.round(mean(readings.slice(-windowSize)) * 10) / 10;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
