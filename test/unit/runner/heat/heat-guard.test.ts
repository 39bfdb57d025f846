import { describe, expect, it } from 'vitest';
import type { SittingEvent } from '../../../../src/model/event.ts';
import { stopOrder } from '../../../../src/model/meter.ts';
import type { RunRecord } from '../../../../src/model/run.ts';
import type { Suite } from '../../../../src/model/suite.ts';
import { HeatGuard } from '../../../../src/runner/heat/heat-guard.ts';
import { StopControl } from '../../../../src/runner/stop-control.ts';
import { type DrivenHeat, drivenHeat } from '../../../setup/driven-heat.ts';
import { sampleRun } from '../../../setup/samples.ts';

const next = { index: 3, phase: 'repeat', round: 1, workload: 'pack', conditional: false } as const;
const hot = sampleRun({
  outcome: 'failed',
  failure: { code: 'temperature-limit', message: 'hot' },
});

function makeBench(
  heat: DrivenHeat,
  {
    cooldown = { kind: 'fixed', seconds: 2 } as Suite['cooldown'],
    celsius = null as number | null,
    recorded = [] as readonly RunRecord[],
    telemetry = true,
  } = {},
) {
  const events: SittingEvent[] = [];
  const stop = new StopControl();
  const guard = new HeatGuard(
    {
      suite: { cooldown, temperatureLimit: { celsius, marginKelvin: 5 } },
      clock: heat.clock,
      readLoad: async () => 0.1,
      telemetry: telemetry ? heat.telemetry : null,
      idleCelsius: null,
      stop,
      emit: (event) => events.push(event),
    },
    recorded,
  );
  const notices = (): string[] =>
    events.flatMap((event) => (event.type === 'notice' ? [event.message] : []));
  return { guard, events, stop, notices };
}

/** Something under way that ends when it is told to; gives the order. */
function untilAborted(signal: AbortSignal): Promise<ReturnType<typeof stopOrder>> {
  return new Promise((resolve) => {
    if (signal.aborted) resolve(stopOrder(signal));
    signal.addEventListener('abort', () => resolve(stopOrder(signal)), { once: true });
  });
}

describe('a run that is watched', () => {
  it('is ended by the first sample at the limit, with the figures in the message', async () => {
    const heat = drivenHeat(94.5);
    const { guard } = makeBench(heat);
    const order = guard.watch(new AbortController().signal, untilAborted);
    await heat.clock.pass(5);
    heat.set(95);
    await heat.clock.pass(1);
    expect(await order).toEqual({
      cause: 'temperature-limit',
      message:
        'the processor reached 95 °C; its limit is 95 °C, 5 K below what its sensor calls critical',
    });
  });

  it("is ended at the suite's figure where that is lower", async () => {
    const heat = drivenHeat(60);
    const { guard } = makeBench(heat, { celsius: 60 });
    const order = guard.watch(new AbortController().signal, untilAborted);
    await heat.clock.pass(2);
    expect((await order)?.message).toContain("its limit is 60 °C, the suite's limit");
  });

  it('is ended by the operator as without a limit, and the first order stands', async () => {
    const heat = drivenHeat(60);
    const { guard } = makeBench(heat);
    const operator = new AbortController();
    const orders: unknown[] = [];
    const order = guard.watch(operator.signal, async (signal) => {
      orders.push(await untilAborted(signal));
      heat.set(120);
      await heat.clock.pass(2);
      return stopOrder(signal);
    });
    operator.abort();
    expect((await order)?.cause).toBe('operator');
    expect(orders).toMatchObject([{ cause: 'operator' }]);
  });

  it('is left alone after its end', async () => {
    const heat = drivenHeat(60);
    const { guard } = makeBench(heat);
    const signal = await guard.watch(new AbortController().signal, async (own) => own);
    heat.set(120);
    await heat.clock.pass(3);
    expect(signal.aborted).toBe(false);
  });

  it('is not ended by a sensor that is not of the processor', async () => {
    const heat = drivenHeat(120, { nature: 'board' });
    const { guard } = makeBench(heat);
    const ran = await guard.watch(new AbortController().signal, async (signal) => {
      await heat.clock.pass(3);
      return signal.aborted;
    });
    expect(ran).toBe(false);
  });
});

describe('a run that heat ended', () => {
  it('ends the sitting when it is the second', () => {
    const { guard, stop, notices } = makeBench(drivenHeat(50));
    guard.runFinished(hot);
    guard.runFinished(sampleRun());
    expect(stop.cause).toBeNull();
    guard.runFinished(hot);
    expect(stop.cause).toBe('temperature-limit');
    expect(stop.afterRun.aborted).toBe(true);
    expect(stop.now.aborted).toBe(false);
    expect(notices()).toEqual([expect.stringMatching(/^TOO HOT: .*second run.*sitting ends/)]);
  });

  it('counts those recorded before the sitting was taken up again', () => {
    const { guard, stop } = makeBench(drivenHeat(50), { recorded: [hot] });
    guard.runFinished(hot);
    expect(stop.cause).toBe('temperature-limit');
  });
});

describe('before a run', () => {
  it('waits on while the processor is at its limit, says so, and counts the wait', async () => {
    const heat = drivenHeat(97);
    const { guard, stop, notices } = makeBench(heat);
    const waiting = guard.coolDown(next);
    await heat.clock.pass(60);
    heat.set(80);
    await heat.clock.pass(3);
    const record = await waiting;
    expect(record).toMatchObject({ ended: 'time-passed', celsius: 80 });
    expect(record.seconds).toBeGreaterThan(59);
    expect(stop.cause).toBeNull();
    expect(notices()).toEqual([expect.stringContaining('97 °C, its limit is 95 °C')]);
  });

  it('ends the sitting where it stays too hot', async () => {
    const heat = drivenHeat(97);
    const { guard, stop, notices } = makeBench(heat);
    const waiting = guard.coolBelowLimit();
    await heat.clock.pass(0);
    const late = makeBench(heat);
    const lateWait = late.guard.coolBelowLimit();
    await heat.clock.pass(605);
    await Promise.all([waiting, lateWait]);
    expect(late.stop.cause).toBe('temperature-limit');
    expect(late.notices().at(-1)).toContain('still not below 95 °C; the sitting ends');
    expect([stop.cause, notices().length]).toEqual([null, 0]);
  });

  it('ends that wait for the operator without blaming the heat', async () => {
    const heat = drivenHeat(97);
    const { guard, stop } = makeBench(heat);
    const waiting = guard.coolDown(next);
    await heat.clock.pass(20);
    stop.request('SIGINT');
    await waiting;
    expect(stop.cause).toBe('SIGINT');
  });

  it('tells once that no sensor tells, however many cooldowns there are', async () => {
    const heat = drivenHeat(null, null);
    const until = { kind: 'below', celsius: 45 } as const;
    const times = { atLeastSeconds: 1, atMostSeconds: 60, withoutSensorSeconds: 7 };
    const { guard, notices } = makeBench(heat, {
      cooldown: { kind: 'temperature', until, ...times },
    });
    for (let index = 0; index < 3; index += 1) {
      const waiting = guard.coolDown(next);
      await heat.clock.pass(8);
      expect(await waiting).toMatchObject({ seconds: 7, ended: 'sensor-missing' });
    }
    expect(notices()).toEqual([
      "nothing tells the processor's temperature: cooldowns take 7 s instead",
    ]);
  });
});

describe('a limit that the suite names', () => {
  it.each([
    ['no telemetry', drivenHeat(50), false, 'no sensor tells it'],
    ['no such sensor', drivenHeat(null, null), true, 'no sensor tells it'],
    ['a sensor made for fans', drivenHeat(50, { nature: 'control' }), true, 'made for fans'],
  ])('is told not to be watched with %s', (_, heat, telemetry, why) => {
    const { notices } = makeBench(heat, { celsius: 90, telemetry });
    expect(notices()).toEqual([expect.stringContaining('limit of 90 °C is NOT watched')]);
    expect(notices()[0]).toContain(why);
  });

  it('is not spoken of where it is watched, or where there is none', () => {
    expect(makeBench(drivenHeat(50), { celsius: 90 }).notices()).toEqual([]);
    expect(makeBench(drivenHeat(null, null)).notices()).toEqual([]);
  });
});
