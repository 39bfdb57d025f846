import { describe, expect, it } from 'vitest';
import {
  telemetryCostSchema,
  telemetryLineSchema,
} from '../../../../src/model/schemas/telemetry-schema.ts';
import {
  type Sample,
  type SensorTable,
  sampleSchema,
  sensorTableSchema,
} from '../../../../src/model/telemetry.ts';
import {
  type SampleMoment,
  startTelemetry,
  type TelemetryOptions,
} from '../../../../src/runner/telemetry/start-telemetry.ts';
import { drivenClock, settle } from '../../../setup/driven-clock.ts';

const id = 'temp/coretemp.0/package-id-0';
const table: SensorTable = {
  schema: sensorTableSchema,
  at: '2024-11-05T10:00:00.000Z',
  sensors: [
    {
      id,
      kind: 'temperature',
      unit: 'Cel',
      label: 'Package id 0',
      source: '/sys',
      nature: 'gauge',
      everySeconds: 1,
      critical: 100,
      range: null,
    },
  ],
  absent: [],
  main: { sensors: [id], nature: 'package', critical: 100, passedOver: [] },
};

function sampleAt(moment: SampleMoment, celsius: number | null = 40 + moment.atSeconds): Sample {
  return {
    schema: sampleSchema,
    atSeconds: moment.atSeconds,
    at: moment.at.toISOString(),
    values: celsius === null ? {} : { [id]: celsius },
    ...(celsius === null && { absent: { [id]: 'no-such-file' as const } }),
  };
}

function bench(own: Partial<TelemetryOptions> = {}) {
  const clock = drivenClock();
  const lines: (SensorTable | Sample)[] = [];
  const moments: SampleMoment[] = [];
  const telemetry = startTelemetry({
    table,
    read: async (moment) => {
      moments.push(moment);
      return sampleAt(moment);
    },
    append: async (line) => {
      lines.push(line);
    },
    clock,
    startSeconds: clock.monotonicSeconds(),
    cpuSeconds: () => 0,
    ...own,
  });
  return { clock, lines, moments, telemetry };
}

describe('telemetry', () => {
  it('writes the table once, then a sample each second, all valid lines', async () => {
    const { clock, lines, telemetry } = bench();
    await clock.pass(3);
    await telemetry.stop();
    expect(lines.map(({ schema }) => schema)).toEqual([
      sensorTableSchema,
      ...Array(4).fill(sampleSchema),
    ]);
    for (const line of lines)
      expect(telemetryLineSchema.parse(JSON.parse(JSON.stringify(line)))).toEqual(line);
    expect(lines.slice(1).map((line) => (line as Sample).atSeconds)).toEqual([0, 1, 2, 3]);
  });

  it('takes no more samples once it is stopped', async () => {
    const { clock, telemetry, moments } = bench();
    await clock.pass(2);
    await telemetry.stop();
    await clock.pass(5);
    expect(moments).toHaveLength(3);
  });

  it('never takes two samples at once, and leaves out what it is late for', async () => {
    let under = 0;
    let most = 0;
    const clock = drivenClock();
    const never = new AbortController().signal;
    const { telemetry } = bench({
      clock,
      startSeconds: clock.monotonicSeconds(),
      read: async (moment) => {
        under += 1;
        most = Math.max(most, under);
        await clock.sleep(2.5, never);
        under -= 1;
        return sampleAt(moment);
      },
    });
    const marks = [telemetry.mark(), telemetry.mark()];
    await clock.pass(30);
    await Promise.all(marks);
    expect(most).toBe(1);
    expect(telemetry.cost().skipped).toBeGreaterThan(10);
    expect(telemetry.cost().maxWallSeconds).toBe(2.5);
  });

  it('keeps even times after a late sample', async () => {
    const clock = drivenClock();
    const never = new AbortController().signal;
    const { telemetry, moments } = bench();
    const slow = [0.3, 1.4, 0, 0];
    const times: number[] = [];
    const other = startTelemetry({
      table,
      read: async (moment) => {
        times.push(moment.atSeconds);
        await clock.sleep(slow.shift() ?? 0, never);
        return sampleAt(moment);
      },
      append: async () => {},
      clock,
      startSeconds: clock.monotonicSeconds(),
      cpuSeconds: () => 0,
    });
    await clock.pass(5);
    expect(times.map((time) => Number(time.toFixed(6)))).toEqual([0, 1, 3, 4, 5]);
    expect(other.cost().skipped).toBe(1);
    expect(moments.length).toBeGreaterThan(0);
    await telemetry.stop();
  });

  it('takes a sample of all counters when asked, at once', async () => {
    const { clock, telemetry, moments } = bench();
    await clock.pass(0.4);
    const sample = await telemetry.mark();
    expect(sample.atSeconds).toBeCloseTo(0.4, 9);
    expect(moments.at(-1)?.edge).toBe(true);
  });

  it('does not care when the wall clock is set back a day', async () => {
    const { clock, lines, telemetry } = bench();
    await clock.pass(2);
    clock.setWall(new Date('2024-11-04T10:00:02Z'));
    await clock.pass(2);
    await telemetry.stop();
    const samples = lines.slice(1) as Sample[];
    expect(samples.map(({ atSeconds }) => atSeconds)).toEqual([0, 1, 2, 3, 4]);
    expect(samples.at(-1)?.at).toBe('2024-11-04T10:00:04.000Z');
    expect(telemetry.runSummary(0, 4)).toMatchObject({ meanTemperature: 42, samples: 5 });
  });

  it('tells the temperature and how old it is', async () => {
    const { clock, telemetry } = bench({ intervalSeconds: 5 });
    expect(telemetry.temperature()).toBeNull();
    await clock.pass(7);
    const now = telemetry.temperature();
    expect(now?.celsius).toBe(45);
    expect(now?.ageSeconds).toBeCloseTo(2, 9);
  });

  it('tells no temperature once its sensor is gone', async () => {
    let gone = false;
    const { clock, telemetry } = bench({
      read: async (moment) => sampleAt(moment, gone ? null : 50),
    });
    await clock.pass(1);
    expect(telemetry.temperature()?.celsius).toBe(50);
    gone = true;
    await clock.pass(1);
    expect(telemetry.temperature()).toBeNull();
  });

  it('keeps memory bounded and still knows the whole of a long run', async () => {
    const { clock, telemetry } = bench({
      mostKept: 100,
      read: async (moment) => sampleAt(moment, moment.atSeconds === 501 ? 99 : 60),
    });
    await telemetry.mark();
    await clock.pass(2000);
    const run = telemetry.runSummary(0, 2000);
    expect(run.samples).toBeLessThanOrEqual(100);
    expect(run).toMatchObject({ startTemperature: 60, maxTemperature: 99 });
    expect(run.meanTemperature).toBeGreaterThan(59.9);
  });

  it('keeps memory bounded when there are very many short runs', async () => {
    const { clock, telemetry } = bench({ mostKept: 100 });
    for (let run = 0; run < 500; run += 1) {
      await telemetry.mark();
      await clock.pass(0.1);
    }
    expect(telemetry.runSummary(0, 50).samples).toBeLessThanOrEqual(100);
    expect(telemetry.runSummary(49.8, 49.9).maxTemperature).toBeCloseTo(89.9, 6);
  });

  it('goes on when lines cannot be written, and counts them', async () => {
    let full = true;
    const lines: unknown[] = [];
    const { clock, telemetry } = bench({
      append: async (line) => {
        if (full) throw Object.assign(new Error('no space left'), { code: 'ENOSPC' });
        lines.push(line);
      },
    });
    await clock.pass(2);
    full = false;
    await clock.pass(2);
    const cost = await telemetry.stop();
    expect(cost.lost).toBe(4);
    expect(lines).toHaveLength(2);
  });

  it('does not pile up lines before a disk that hangs', async () => {
    const { clock, telemetry } = bench({ append: () => new Promise<void>(() => {}) });
    await clock.pass(1000);
    expect(telemetry.cost().lost).toBeGreaterThan(800);
    expect(telemetry.runSummary(990, 1000).samples).toBe(11);
  });

  it('writes lines in order even when writing is slow', async () => {
    const lines: number[] = [];
    const waiting: (() => void)[] = [];
    const { clock } = bench({
      append: (line) =>
        new Promise((resolve) =>
          waiting.push(() => {
            if ('atSeconds' in line) lines.push(line.atSeconds);
            resolve();
          }),
        ),
    });
    await clock.pass(3);
    while (waiting.length > 0) {
      waiting.shift()?.();
      await settle();
    }
    expect(lines).toEqual([0, 1, 2, 3]);
  });

  it('measures what it costs', async () => {
    let cpu = 5;
    const { clock, telemetry } = bench({ cpuSeconds: () => (cpu += 0.002) });
    await clock.pass(9);
    const cost = await telemetry.stop();
    expect(cost).toMatchObject({ samples: 10, skipped: 0, intervalSeconds: 1, lost: 0 });
    expect(cost.meanCpuSeconds).toBeCloseTo(0.002, 9);
    expect(telemetryCostSchema.parse(cost)).toEqual(cost);
  });

  it('shows each sample to whoever watches, with the temperature', async () => {
    const seen: (number | null)[] = [];
    const { clock, telemetry } = bench({ onSample: (_, celsius) => seen.push(celsius) });
    await clock.pass(2);
    await telemetry.stop();
    expect(seen).toEqual([40, 41, 42]);
  });
});
