import { describe, expect, it } from 'vitest';
import { openSensors, sensors } from '../../../src/api/sensors.ts';
import { readSensors } from '../../../src/rig/sensors/read-sensors.ts';
import { rigRoot } from '../rig/rigs.ts';

describe('sensors', () => {
  it('of a mounted rig are read there, and nothing of this machine', async () => {
    const { table, sample } = await sensors(rigRoot('desktop-coretemp'));
    expect(sample.values['temp/coretemp.0/package-id-0']).toBe(41);
    expect(table.sensors.filter(({ id }) => id.startsWith('gpu/nvidia'))).toEqual([]);
  });

  it('of this machine have values or reasons, whatever it is', async () => {
    const { table, sample } = await sensors();
    const told = [...Object.keys(sample.values), ...Object.keys(sample.absent ?? {})];
    expect(told.sort()).toEqual(table.sensors.map(({ id }) => id).sort());
  });

  it.runIf(process.platform === 'linux')('of this machine count time onwards', async () => {
    const { set, files } = await openSensors('/');
    const at = (atSeconds: number) =>
      readSensors(set, files, { atSeconds, at: new Date(), edge: true });
    const [first, second] = [await at(0), await at(1)];
    const total = 'time/cpu/total';
    expect(second.values[total]).toBeGreaterThanOrEqual(first.values[total] ?? Number.NaN);
  });
});
