import { describe, expect, it } from 'vitest';
import { runTelemetrySchema } from '../../../../src/model/schemas/telemetry-schema.ts';
import {
  type Sensor,
  type SensorTable,
  sensorTableSchema,
} from '../../../../src/model/telemetry.ts';
import { summarizeRun } from '../../../../src/runner/telemetry/run-summary.ts';

const packageId = 'temp/coretemp.0/package-id-0';

function sensor(id: string, own: Partial<Sensor> = {}): Sensor {
  return {
    id,
    kind: 'time',
    unit: 's',
    label: id,
    source: id,
    nature: 'counter',
    everySeconds: 1,
    critical: null,
    range: null,
    ...own,
  };
}

const table: SensorTable = {
  schema: sensorTableSchema,
  at: '2024-11-05T10:00:00.000Z',
  sensors: [
    sensor(packageId, { kind: 'temperature', unit: 'Cel', nature: 'gauge' }),
    sensor('clock/cpu/mean', { nature: 'gauge' }),
    sensor('clock/cpu/fastest', { nature: 'gauge' }),
    sensor('energy/package-0', { range: 1000 }),
    sensor('energy/package-1', { range: 1000 }),
    sensor('energy/package-0/core', { range: 1000 }),
    sensor('time/cpu/steal'),
    sensor('time/cpu/total'),
    sensor('pressure/cpu/some'),
    sensor('throttle/core/count'),
    sensor('throttle/package/count'),
    sensor('throttle/package/time'),
  ],
  absent: [
    { id: 'pressure/io/some', label: 'io', source: '/proc/pressure/io', absent: 'not-supported' },
  ],
  main: { sensors: [packageId], nature: 'package', critical: 100, passedOver: [] },
};

/** A second of a rig that heats by 2 K/s from 40 °C, uses 50 and 30 W, and loses a tenth to the hypervisor. */
function at(atSeconds: number, also: Readonly<Record<string, number>> = {}) {
  return {
    atSeconds,
    values: {
      [packageId]: 40 + 2 * atSeconds,
      'clock/cpu/mean': 3e9,
      'clock/cpu/fastest': 5e9 - 1e8 * atSeconds,
      'energy/package-0': (900 + 50 * atSeconds) % 1000,
      'energy/package-1': (100 + 30 * atSeconds) % 1000,
      'energy/package-0/core': (10 * atSeconds) % 1000,
      'time/cpu/steal': 7 + 0.4 * atSeconds,
      'time/cpu/total': 100 + 4 * atSeconds,
      'pressure/cpu/some': 1 + 0.25 * atSeconds,
      'throttle/core/count': 5,
      'throttle/package/count': 3 + (atSeconds >= 5 ? 2 : 0),
      'throttle/package/time': atSeconds >= 5 ? 0.5 : 0.1,
      ...also,
    },
  };
}

const tenSeconds = Array.from({ length: 11 }, (_, index) => at(index));

describe('summarizeRun', () => {
  it('gives the figures of a run, energy over all packages and past a start over', () => {
    const run = summarizeRun(table, tenSeconds, 0, 10);
    expect(runTelemetrySchema.parse(run)).toEqual(run);
    expect(run).toMatchObject({
      startTemperature: 40,
      meanTemperature: 50,
      maxTemperature: 60,
      meanClockHz: 3e9,
      meanFastestClockHz: 4.5e9,
      energyJoules: 800,
      throttleEvents: 2,
      throttleSeconds: 0.4,
      samples: 11,
    });
    expect(run.stealShare).toBeCloseTo(0.1, 12);
    expect(run.cpuPressureSome).toBeCloseTo(0.25, 12);
  });

  it('says why a figure is not known', () => {
    const { ioPressureSome, absent } = summarizeRun(table, tenSeconds, 0, 10);
    expect(ioPressureSome).toBeNull();
    expect(absent).toMatchObject({
      ioPressureSome: 'not-supported',
      memoryPressureSome: 'no-sensor',
    });
  });

  it('weighs by time, so that marks close together at an edge do not pull the mean', () => {
    const crowded = [at(0), at(0.001), at(0.002), at(0.003), at(5), at(10)];
    expect(summarizeRun(table, crowded, 0, 10).meanTemperature).toBeCloseTo(50, 6);
  });

  it('takes the temperature before the run for its start, not the heat of the run', () => {
    expect(summarizeRun(table, [at(0), at(4), at(5)], 4.05, 5).startTemperature).toBe(48);
    const none = summarizeRun(table, [at(12), at(20)], 10, 20);
    expect(none).toMatchObject({
      startTemperature: null,
      absent: { startTemperature: 'not-sampled' },
    });
  });

  it('gives no energy where no sample is close to an end of the run', () => {
    const run = summarizeRun(table, [at(0), at(1), at(2)], 0.5, 1.5);
    expect(run).toMatchObject({ energyJoules: null, absent: { energyJoules: 'not-sampled' } });
    expect(summarizeRun(table, [at(0.45), at(1.55)], 0.5, 1.5).energyJoules).toBeCloseTo(88, 6);
  });

  it('takes the sample nearest to an end, on either side', () => {
    const late = Array.from({ length: 12 }, (_, index) => at(index + 0.01));
    expect(summarizeRun(table, late, 1, 10)).toMatchObject({ energyJoules: 720 });
  });

  it('knows nothing of a time without samples', () => {
    const run = summarizeRun(table, tenSeconds, 100, 110);
    expect(run).toMatchObject({ samples: 0, maxTemperature: null, energyJoules: null });
    expect(run.absent).toMatchObject({
      maxTemperature: 'not-sampled',
      meanClockHz: 'not-sampled',
      energyJoules: 'not-sampled',
    });
  });

  it('gives the reason that a sensor gave in the run', () => {
    const asleep = [0, 5, 10].map((atSeconds) => ({
      atSeconds,
      values: {},
      absent: { [packageId]: 'not-ready' as const },
    }));
    expect(summarizeRun(table, asleep, 0, 10).absent.maxTemperature).toBe('not-ready');
  });

  it('gives no energy of the whole when one package may not be read', () => {
    const refused = {
      ...table,
      absent: [{ id: 'energy/package-1', label: '', source: '', absent: 'not-permitted' as const }],
    };
    expect(summarizeRun(refused, tenSeconds, 0, 10).absent.energyJoules).toBe('not-permitted');
  });

  it('has no temperature where the rig has no sensor for it', () => {
    expect(summarizeRun({ ...table, main: null }, tenSeconds, 0, 10).absent.meanTemperature).toBe(
      'no-sensor',
    );
  });
});
