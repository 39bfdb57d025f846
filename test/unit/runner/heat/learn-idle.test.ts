import { describe, expect, it } from 'vitest';
import {
  type IdleTemperature,
  idleLeastSeconds,
  idleMostSeconds,
  learnIdle,
} from '../../../../src/runner/heat/learn-idle.ts';
import { openThermometer } from '../../../../src/runner/heat/thermometer.ts';
import { type DrivenHeat, drivenHeat } from '../../../setup/driven-heat.ts';

function begin(
  heat: DrivenHeat,
  { load = 0.02 as number | null, signal = new AbortController().signal } = {},
): Promise<IdleTemperature> {
  const thermometer = openThermometer(heat.telemetry);
  if (thermometer === null) throw new Error('no thermometer');
  return learnIdle(thermometer, heat.clock, async () => load, signal);
}

/** Heat leaving by Newton's law: from 70 to 35 °C with a time constant of 20 s. */
async function coolOff(heat: DrivenHeat, seconds: number): Promise<void> {
  for (let second = 0; second < seconds; second += 1) {
    heat.set(35 + 35 * Math.exp(-second / 20));
    await heat.clock.pass(1);
  }
}

describe('learnIdle', () => {
  it('takes the temperature of a machine at rest after the least time', async () => {
    const heat = drivenHeat(34.2);
    const learning = begin(heat);
    await heat.clock.pass(idleLeastSeconds + 1);
    expect(await learning).toEqual({ celsius: 34.2, seconds: idleLeastSeconds, ended: 'settled' });
  });

  it('waits until the temperature falls no longer', async () => {
    const heat = drivenHeat(70);
    const learning = begin(heat);
    await coolOff(heat, 200);
    const { celsius, seconds, ended } = await learning;
    expect(ended).toBe('settled');
    expect(seconds).toBeGreaterThan(60);
    // Less than half a kelvin above where it ends.
    expect(celsius).toBeGreaterThanOrEqual(35);
    expect(celsius).toBeLessThan(35.5);
  });

  it('does not call a busy machine at rest, and says so at the longest time', async () => {
    const heat = drivenHeat(60);
    const learning = begin(heat, { load: 0.9 });
    await heat.clock.pass(idleMostSeconds + 1);
    expect(await learning).toEqual({ celsius: 60, seconds: idleMostSeconds, ended: 'time-limit' });
  });

  it('goes by the temperature alone where the load is not told', async () => {
    const heat = drivenHeat(34);
    const learning = begin(heat, { load: null });
    await heat.clock.pass(idleLeastSeconds + 1);
    expect(await learning).toMatchObject({ celsius: 34, ended: 'settled' });
  });

  it('gives nothing when the sensor vanishes', async () => {
    const heat = drivenHeat(34);
    const learning = begin(heat);
    await heat.clock.pass(10);
    heat.set(null);
    await heat.clock.pass(10);
    expect(await learning).toMatchObject({ celsius: null, ended: 'sensor-missing' });
  });

  it('ends at once when a stop is asked for', async () => {
    const heat = drivenHeat(34);
    const stop = new AbortController();
    const learning = begin(heat, { signal: stop.signal });
    await heat.clock.pass(15);
    stop.abort();
    expect(await learning).toMatchObject({ celsius: null, ended: 'stopped' });
  });
});
