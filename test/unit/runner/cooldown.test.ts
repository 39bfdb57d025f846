import { describe, expect, it } from 'vitest';
import type { Clock } from '../../../src/runner/clock.ts';
import { type CoolingSigns, coolDown, type LoadMeter } from '../../../src/runner/cooldown.ts';
import type { Thermometer } from '../../../src/runner/heat/thermometer.ts';

/** A clock that only sleeping moves. */
function fakeClock(): Clock {
  let seconds = 100;
  return {
    now: () => new Date(0),
    monotonicSeconds: () => seconds,
    sleep: async (wait) => {
      seconds += wait;
    },
  };
}

const never = new AbortController().signal;
const byLoad = { kind: 'load', below: 0.2, atLeastSeconds: 2, atMostSeconds: 10 } as const;

/** Gives the loads in turn, then the last one for ever; the first call only starts the interval. */
function loads(...values: (number | null)[]): () => Promise<number | null> {
  const queue: (number | null)[] = [null, ...values];
  return async () => (queue.length > 1 ? (queue.shift() ?? null) : (queue[0] ?? null));
}

function signs(readLoad: LoadMeter, thermometer: Thermometer | null = null): CoolingSigns {
  return { clock: fakeClock(), readLoad, thermometer, idleCelsius: null };
}

describe('coolDown', () => {
  it('waits a fixed time', async () => {
    const record = await coolDown({ kind: 'fixed', seconds: 5 }, signs(loads(0.1)), never);
    expect(record).toEqual({ seconds: 5, ended: 'time-passed', load: 0.1, celsius: null });
  });

  it('waits at least its least time, then until the load has settled', async () => {
    const record = await coolDown(byLoad, signs(loads(0.9, 0.5, 0.1)), never);
    expect(record).toEqual({ seconds: 3, ended: 'load-settled', load: 0.1, celsius: null });
  });

  it('gives up at its longest time and says so', async () => {
    const record = await coolDown(byLoad, signs(loads(0.9)), never);
    expect(record).toEqual({ seconds: 10, ended: 'time-limit', load: 0.9, celsius: null });
  });

  it('waits its longest time where the load cannot be read', async () => {
    const record = await coolDown(byLoad, signs(loads(null)), never);
    expect(record).toEqual({ seconds: 10, ended: 'sensor-missing', load: null, celsius: null });
  });

  it('ends at once when a stop was asked for', async () => {
    const stop = new AbortController();
    stop.abort();
    const record = await coolDown(byLoad, signs(loads(0.9)), stop.signal);
    expect(record.seconds).toBeLessThanOrEqual(2);
  });
});
