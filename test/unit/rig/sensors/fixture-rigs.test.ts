import { describe, expect, it } from 'vitest';
import {
  sampleDefinition,
  sensorTableDefinition,
} from '../../../../src/model/schemas/telemetry-schema.ts';
import { rigFiles } from '../../../../src/rig/rig-files.ts';
import { discoverSensors } from '../../../../src/rig/sensors/discover-sensors.ts';
import { readSensors } from '../../../../src/rig/sensors/read-sensors.ts';
import { type RigName, rigNames, rigRoot } from '../rigs.ts';

async function sensorsOf(name: RigName) {
  const files = rigFiles(rigRoot(name));
  const set = await discoverSensors(files, { now: () => new Date('2024-11-05T10:00:00Z') });
  const sample = await readSensors(set, files, {
    atSeconds: 0,
    at: new Date('2024-11-05T10:00:01Z'),
    edge: false,
  });
  return { set, sample };
}

describe.each(rigNames)('the sensors of %s', (name) => {
  it('and a sample of them are valid records', async () => {
    const { set, sample } = await sensorsOf(name);
    expect(sensorTableDefinition.parse(set.table)).toEqual(set.table);
    expect(sampleDefinition.parse(JSON.parse(JSON.stringify(sample)))).toEqual(sample);
  });

  it('have ids of their own, and each has a value', async () => {
    const { set, sample } = await sensorsOf(name);
    const ids = set.table.sensors.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(Object.keys(sample.values).sort()).toEqual([...ids].sort());
    expect(sample.absent).toBeUndefined();
  });

  it('tell nothing that could identify the rig, and no number that the kernel gives out anew', async () => {
    const { set, sample } = await sensorsOf(name);
    expect(JSON.stringify([set.table, sample])).not.toMatch(/decoy|decade|de:ca/i);
    for (const { id } of set.table.sensors)
      expect(id).not.toMatch(/hwmon\d|nvme\d|card\d|i2c-\d(?!0)/);
  });
});

describe('the coretemp rig', () => {
  it('is read in base units', async () => {
    const { sample } = await sensorsOf('desktop-coretemp');
    expect(sample.values).toMatchObject({
      'temp/coretemp.0/package-id-0': 41,
      'temp/nvme@01:00.0/composite': 38.85,
      'temp/drivetemp@00:17.0.ata1/temp1': 31,
      'fan/exampleboard@example-board-sensors/cpu-fan': 18.7167,
      'fan/exampleboard@example-board-sensors/rear-fan': 0,
      'energy/package-0': 182331.098112,
      'energy/package-0/core': 91233.109811,
      'clock/cpu/slowest': 800_000_000,
      'clock/cpu/fastest': 4_991_007_000,
      'throttle/package/count': 3,
      'throttle/package/time': 0.041,
      'cooling/intel-powerclamp': 0,
      'gpu/i915@00:02.0/clock': 0,
      'gpu/i915@00:02.0/limited': 0,
      'pressure/io/full': 9.211873,
      'time/cpu/steal': 0,
    });
  });

  it('has its mean clock over all twelve CPUs', async () => {
    const { sample } = await sensorsOf('desktop-coretemp');
    const kilohertz = [
      4987114, 4991007, 3602551, 800022, 1204900, 800000, 4100312, 800113, 2701544, 800000, 800000,
      3899991,
    ];
    const mean = kilohertz.reduce((sum, each) => sum + each, 0) / 12;
    expect(sample.values['clock/cpu/mean']).toBe(Math.round(mean * 1000));
  });

  it('has counters of energy that start over where the kernel says', async () => {
    const { set } = await sensorsOf('desktop-coretemp');
    const energy = set.table.sensors.find(({ id }) => id === 'energy/package-0');
    expect(energy).toMatchObject({ nature: 'counter', unit: 'J', range: 262143.32885 });
  });

  it('asks disks no more often than their drivers advise', async () => {
    const { set } = await sensorsOf('desktop-coretemp');
    const cadence = (id: string) =>
      set.table.sensors.find((sensor) => sensor.id === id)?.everySeconds;
    expect(cadence('temp/nvme@01:00.0/composite')).toBeGreaterThanOrEqual(10);
    expect(cadence('temp/drivetemp@00:17.0.ata1/temp1')).toBeGreaterThanOrEqual(60);
    expect(cadence('temp/coretemp.0/package-id-0')).toBe(1);
  });

  it('has the package for its temperature, critical at 100 degrees', async () => {
    const { set } = await sensorsOf('desktop-coretemp');
    expect(set.table.main).toEqual({
      sensors: ['temp/coretemp.0/package-id-0'],
      nature: 'package',
      critical: 100,
      passedOver: [],
    });
  });
});

describe('the k10temp rig', () => {
  it('is read in base units', async () => {
    const { sample } = await sensorsOf('desktop-k10temp');
    expect(sample.values).toMatchObject({
      'temp/k10temp@00:18.3/tctl': 44.25,
      'temp/amdgpu@03:00.0/junction': 47,
      'power/amdgpu@03:00.0/ppt': 17,
      'clock/amdgpu@03:00.0/sclk': 22_000_000,
      'gpu/amdgpu@03:00.0/memory-used': 812_331_008,
      'temp/spd5118@00:14.0.i2c-0051/temp1': 34.5,
      'temp/spd5118@00:14.0.i2c-0053/temp1': 35.25,
    });
  });

  it('has the hotter die for its temperature, not the control value', async () => {
    const { set } = await sensorsOf('desktop-k10temp');
    expect(set.table.main?.sensors).toEqual([
      'temp/k10temp@00:18.3/tccd1',
      'temp/k10temp@00:18.3/tccd2',
    ]);
  });

  it('says that it counts no throttling', async () => {
    const { set } = await sensorsOf('desktop-k10temp');
    expect(set.table.absent).toContainEqual(
      expect.objectContaining({ label: 'CPU throttling', absent: 'no-such-file' }),
    );
  });
});
