import { describe, expect, it } from 'vitest';
import type { CooldownRecord } from '../../../../src/model/run.ts';
import type { Cooldown } from '../../../../src/model/suite.ts';
import { coolDown } from '../../../../src/runner/cooldown.ts';
import { openThermometer } from '../../../../src/runner/heat/thermometer.ts';
import { type DrivenHeat, drivenHeat } from '../../../setup/driven-heat.ts';

const never = new AbortController().signal;
const times = { atLeastSeconds: 3, atMostSeconds: 60, withoutSensorSeconds: 20 };
const below45: Cooldown = {
  kind: 'temperature',
  until: { kind: 'below', celsius: 45 },
  ...times,
};
const nearIdle: Cooldown = {
  kind: 'temperature',
  until: { kind: 'near-idle', withinKelvin: 3 },
  ...times,
};

/** Begins a cooldown once the first sample is there. */
async function begin(
  heat: DrivenHeat,
  cooldown: Cooldown,
  { idle = null as number | null, signal = never } = {},
): Promise<Promise<CooldownRecord>[]> {
  await heat.clock.pass(0.1);
  const thermometer = openThermometer(heat.telemetry);
  const signs = { clock: heat.clock, readLoad: async () => 0.1, thermometer, idleCelsius: idle };
  // In a list, or waiting for this function would wait for the cooldown.
  return [coolDown(cooldown, signs, signal)];
}

describe('a cooldown by temperature', () => {
  it('ends when the processor is below the figure, and tells how warm it was then', async () => {
    const heat = drivenHeat(60);
    const [ended] = await begin(heat, below45);
    await heat.clock.pass(10);
    heat.set(45);
    await heat.clock.pass(10);
    heat.set(44.5);
    await heat.clock.pass(2);
    const record = await ended;
    expect(record).toMatchObject({ ended: 'temperature-reached', celsius: 44.5, load: 0.1 });
    expect(record?.seconds).toBeGreaterThan(20);
    expect(record?.seconds).toBeLessThan(22);
  });

  it('ends within so many kelvin of the temperature at rest', async () => {
    const heat = drivenHeat(38.5);
    const [ended] = await begin(heat, nearIdle, { idle: 35 });
    await heat.clock.pass(10);
    heat.set(38);
    await heat.clock.pass(2);
    expect(await ended).toMatchObject({ ended: 'temperature-reached', celsius: 38 });
  });

  it('lasts its least time however cool it is', async () => {
    const heat = drivenHeat(30);
    const [ended] = await begin(heat, below45);
    await heat.clock.pass(4);
    expect((await ended)?.seconds).toBeCloseTo(3);
  });

  it('gives up at its longest time and says so', async () => {
    const heat = drivenHeat(60);
    const [ended] = await begin(heat, below45);
    await heat.clock.pass(61);
    expect(await ended).toEqual({
      seconds: expect.closeTo(60),
      ended: 'time-limit',
      load: 0.1,
      celsius: 60,
    });
  });

  it('waits the fixed time where no sensor tells', async () => {
    const heat = drivenHeat(null, null);
    const [ended] = await begin(heat, below45);
    await heat.clock.pass(21);
    const record = {
      seconds: expect.closeTo(20),
      ended: 'sensor-missing',
      load: 0.1,
      celsius: null,
    };
    expect(await ended).toEqual(record);
  });

  it('waits the fixed time where no temperature at rest was learnt', async () => {
    const heat = drivenHeat(30);
    const [ended] = await begin(heat, nearIdle);
    await heat.clock.pass(21);
    expect(await ended).toMatchObject({ ended: 'sensor-missing', celsius: 30 });
  });

  it('goes over to the fixed time when the sensor vanishes, not for one reading that failed', async () => {
    const heat = drivenHeat(60);
    const [ended] = await begin(heat, below45);
    await heat.clock.pass(4);
    heat.set(null);
    await heat.clock.pass(2);
    heat.set(60);
    await heat.clock.pass(24);
    heat.set(null);
    await heat.clock.pass(10);
    const record = await ended;
    expect(record).toMatchObject({ ended: 'sensor-missing', celsius: null });
    // The fixed time was over by then.
    expect(record?.seconds).toBeGreaterThan(34);
    expect(record?.seconds).toBeLessThan(37);
  });

  it('ends at once when a stop is asked for', async () => {
    const heat = drivenHeat(60);
    const stop = new AbortController();
    const [ended] = await begin(heat, below45, { signal: stop.signal });
    await heat.clock.pass(5);
    stop.abort();
    expect((await ended)?.seconds).toBeLessThan(6);
  });

  it.each([
    ['fixed', { kind: 'fixed', seconds: 5 }],
    ['load', { kind: 'load', below: 0.2, atLeastSeconds: 1, atMostSeconds: 5 }],
  ] as const)('of the kind %s tells the temperature at its end too', async (_, cooldown) => {
    const heat = drivenHeat(51);
    const [ended] = await begin(heat, cooldown);
    await heat.clock.pass(6);
    expect(await ended).toMatchObject({ celsius: 51 });
  });

  it('does not take an old reading for a new one', async () => {
    const heat = drivenHeat(40);
    const [ended] = await begin(heat, below45);
    await heat.telemetry.stop();
    await heat.clock.pass(30);
    expect(await ended).toMatchObject({ celsius: null });
  });
});
