import { describe, expect, it } from 'vitest';
import { discoverSensors } from '../../../../src/rig/sensors/discover-sensors.ts';
import type { GraphicsQuery } from '../../../../src/rig/sensors/graphics-query.ts';
import { readSensors } from '../../../../src/rig/sensors/read-sensors.ts';
import { memoryFiles } from '../memory-files.ts';

const driver = {
  '/proc/driver/nvidia/gpus/0000:01:00.0/information': 'Model: Example Graphics G42\n',
};
const place = 'gpu/nvidia@01:00.0';
const line = '00000000:01:00.0, 41, 61.25, 1410, 37, 812, 0x0000000000000000\n';

async function sensorsOf(query: GraphicsQuery, files = memoryFiles(driver)) {
  const set = await discoverSensors(files, { queryGraphics: query });
  return {
    set,
    sample: await readSensors(set, files, { atSeconds: 0, at: new Date(0), edge: false }),
  };
}

describe('the query program of the proprietary driver', () => {
  it('is read in base units, by where the device sits', async () => {
    const { set, sample } = await sensorsOf(async () => ({ text: line }));
    expect(sample.values).toEqual({
      [`${place}/temp`]: 41,
      [`${place}/power`]: 61.25,
      [`${place}/clock`]: 1_410_000_000,
      [`${place}/busy`]: 0.37,
      [`${place}/memory-used`]: 812 * 2 ** 20,
      [`${place}/slowed-by-heat`]: 0,
    });
    expect(set.table.sensors.every(({ everySeconds }) => everySeconds >= 10)).toBe(true);
  });

  it.each([
    ['0x0000000000000001', 0],
    ['0x0000000000000004', 0],
    ['0x0000000000000020', 1],
    ['0x0000000000000040', 1],
    ['0x0000000000000048', 1],
  ])('tells from the reasons %s whether heat is one', async (reasons, slowed) => {
    const { sample } = await sensorsOf(async () => ({
      text: line.replace('0x0000000000000000', reasons),
    }));
    expect(sample.values[`${place}/slowed-by-heat`]).toBe(slowed);
  });

  it('is not started where the driver has no device', async () => {
    let started = 0;
    await sensorsOf(async () => {
      started += 1;
      return { text: line };
    }, memoryFiles({}));
    expect(started).toBe(0);
  });

  it('is started in a container that has the device without the page of its driver', async () => {
    const { sample } = await sensorsOf(
      async () => ({ text: line }),
      memoryFiles({ '/dev/nvidia0': '' }),
    );
    expect(sample.values[`${place}/temp`]).toBe(41);
  });

  it('is not started while the device sleeps', async () => {
    let started = 0;
    const query: GraphicsQuery = async () => {
      started += 1;
      return { text: line };
    };
    const awake = memoryFiles(driver);
    const set = await discoverSensors(awake, { queryGraphics: query });
    started = 0;
    const asleep = memoryFiles({
      ...driver,
      '/sys/bus/pci/devices/0000:01:00.0/power/runtime_status': 'suspended\n',
    });
    const sample = await readSensors(set, asleep, { atSeconds: 0, at: new Date(0), edge: false });
    expect(started).toBe(0);
    expect(new Set(Object.values(sample.absent ?? {}))).toEqual(new Set(['asleep']));
  });

  it('is asked without the reasons where it does not know them', async () => {
    const query: GraphicsQuery = async (fields) =>
      fields.some((field) => field.includes('reasons'))
        ? { absent: 'unreadable' }
        : { text: '00000000:01:00.0, 41, 61.25, 1410, 37, 812\n' };
    const { sample } = await sensorsOf(query);
    expect(sample.values[`${place}/temp`]).toBe(41);
    expect(sample.values[`${place}/slowed-by-heat`]).toBeUndefined();
  });

  it('leaves out what a device does not have', async () => {
    const { set, sample } = await sensorsOf(async () => ({ text: line.replace('61.25', '[N/A]') }));
    expect(set.table.sensors.map(({ id }) => id)).not.toContain(`${place}/power`);
    expect(sample.values[`${place}/temp`]).toBe(41);
  });

  it('tells two devices apart, and notices when one falls off the bus', async () => {
    const other = line.replace('01:00.0', '41:00.0');
    let text = line + other;
    const files = memoryFiles(driver);
    const set = await discoverSensors(files, { queryGraphics: async () => ({ text }) });
    expect(set.table.sensors).toHaveLength(12);
    text = line;
    const sample = await readSensors(set, files, { atSeconds: 0, at: new Date(0), edge: false });
    expect(sample.values[`${place}/temp`]).toBe(41);
    expect(sample.absent?.['gpu/nvidia@41:00.0/temp']).toBe('no-such-file');
  });

  it('may fail, answer late or answer nonsense in the middle', async () => {
    let answer: Awaited<ReturnType<GraphicsQuery>> = { text: line };
    const files = memoryFiles(driver);
    const set = await discoverSensors(files, { queryGraphics: async () => answer });
    for (const [atSeconds, next, reason] of [
      [0, { absent: 'late' }, 'late'],
      [20, { text: 'Unable to determine the device handle\n' }, 'unreadable'],
      [40, { text: '' }, 'unreadable'],
    ] as const) {
      answer = next;
      const sample = await readSensors(set, files, { atSeconds, at: new Date(0), edge: false });
      expect(sample.absent?.[`${place}/temp`]).toBe(reason);
    }
  });

  it('is said to be missing where the driver is there without it', async () => {
    const { set } = await sensorsOf(async () => ({ absent: 'no-such-file' }));
    expect(set.table.absent).toContainEqual(
      expect.objectContaining({ label: 'graphics (query program)', absent: 'no-such-file' }),
    );
  });
});
