import { describe, expect, it } from 'vitest';
import { rigFiles } from '../../../../src/rig/rig-files.ts';
import { discoverSensors } from '../../../../src/rig/sensors/discover-sensors.ts';
import { readSensors } from '../../../../src/rig/sensors/read-sensors.ts';
import type { Within } from '../../../../src/rig/sensors/within.ts';
import { failingFiles, memoryFiles, systemError } from '../memory-files.ts';
import { rigRoot } from '../rigs.ts';
import { hwmonFiles } from './linked-files.ts';

const coretemp = rigFiles(rigRoot('desktop-coretemp'));
const k10temp = rigFiles(rigRoot('desktop-k10temp'));
const packageId = 'temp/coretemp.0/package-id-0';

function moment(atSeconds: number, edge = false) {
  return { atSeconds, at: new Date('2024-11-05T10:00:00Z'), edge };
}

describe('finding sensors', () => {
  it('finds nothing on a rig without files, and says so', async () => {
    const set = await discoverSensors(memoryFiles({}));
    expect(set.table.sensors).toEqual([]);
    expect(set.table.main).toBeNull();
    expect(set.table.absent.map(({ absent }) => absent)).not.toContain('unreadable');
    expect(await readSensors(set, memoryFiles({}), moment(0))).toMatchObject({ values: {} });
  });

  it('says of energy that only root may read that it is not permitted, and tries no more', async () => {
    const refused = failingFiles(coretemp, /energy_uj$/, systemError('EACCES'));
    const set = await discoverSensors(refused);
    expect(set.table.absent).toContainEqual(
      expect.objectContaining({ id: 'energy/package-0', absent: 'not-permitted' }),
    );
    const sample = await readSensors(set, refused, moment(0));
    expect(sample.absent).toBeUndefined();
    expect(Object.keys(sample.values).filter((id) => id.startsWith('energy'))).toEqual([]);
  });

  it('says of pressure that is switched off that it is not supported', async () => {
    const set = await discoverSensors(
      failingFiles(coretemp, /pressure/, systemError('EOPNOTSUPP')),
    );
    expect(set.table.absent.filter(({ absent }) => absent === 'not-supported')).toHaveLength(5);
  });

  it('keeps a sensor that is not ready, and has it later', async () => {
    const set = await discoverSensors(
      failingFiles(coretemp, /coretemp.*temp1_input$/, systemError('EAGAIN')),
    );
    expect(set.table.main?.sensors).toEqual([packageId]);
    const again = failingFiles(coretemp, /coretemp.*temp1_input$/, systemError('EAGAIN'));
    expect((await readSensors(set, again, moment(0))).absent).toEqual({ [packageId]: 'not-ready' });
    expect((await readSensors(set, coretemp, moment(1))).values[packageId]).toBe(41);
  });

  it('tells apart two alike channels of one chip, and two alike chips without a place', async () => {
    const chip = {
      name: 'example\n',
      temp1_input: '30000\n',
      temp2_input: '31000\n',
      temp1_label: 'CPU\n',
      temp2_label: 'CPU\n',
    };
    const one = await discoverSensors(hwmonFiles({ 'platform/example.1': chip }));
    expect(one.table.sensors.map(({ id }) => id)).toEqual([
      'temp/example.1/cpu-temp1',
      'temp/example.1/cpu-temp2',
    ]);
    const bare = { name: 'example\n', temp1_input: '30000\n' };
    const two = await discoverSensors(
      hwmonFiles({ 'virtual/a': bare, 'virtual/b': { ...bare, temp1_input: '31000\n' } }),
    );
    expect(two.table.sensors.map(({ id }) => id)).toEqual([
      'temp/example/temp1',
      'temp/example/temp1#2',
    ]);
  });
});

describe('a sample', () => {
  it.each([
    '',
    '\n',
    'garbage\n',
    '41000 41000\n',
    '99999999999999999999\n',
    '-2147483648\n',
    'NaN\n',
  ])('takes %j for no temperature', async (text) => {
    const set = await discoverSensors(coretemp);
    const broken = {
      ...coretemp,
      readText: async (path: string) =>
        /coretemp.*temp1_input$/.test(path) ? text : coretemp.readText(path),
    };
    const sample = await readSensors(set, broken, moment(0));
    expect(sample.absent).toEqual({ [packageId]: 'unreadable' });
  });

  it('has every file turn to garbage without failing', async () => {
    const set = await discoverSensors(coretemp);
    const garbage = { ...coretemp, readText: async () => '\u0000\ufffd%$ -1.5e9\n' };
    const sample = await readSensors(set, garbage, moment(0));
    expect(sample.values).toEqual({});
    expect(new Set(Object.values(sample.absent ?? {}))).toEqual(new Set(['unreadable']));
  });

  it.each([
    ['ENOENT', 'no-such-file'],
    ['ENODEV', 'no-such-file'],
    ['EACCES', 'not-permitted'],
    ['ENODATA', 'not-supported'],
    ['EAGAIN', 'not-ready'],
    ['EIO', 'unreadable'],
  ])('says why when every file answers %s', async (code, reason) => {
    const set = await discoverSensors(k10temp);
    const sample = await readSensors(set, failingFiles(k10temp, /./, systemError(code)), moment(0));
    expect(sample.values).toEqual({});
    expect(new Set(Object.values(sample.absent ?? {}))).toEqual(new Set([reason]));
  });

  it('outlives an error that is no error of the system', async () => {
    const set = await discoverSensors(k10temp);
    const sample = await readSensors(
      set,
      failingFiles(k10temp, /./, new TypeError('a fault of ours')),
      moment(0),
    );
    expect(sample.values).toEqual({});
  });

  it('goes on without a disk that is pulled in the middle', async () => {
    const chips = {
      'platform/coretemp.0': {
        name: 'coretemp\n',
        temp1_input: '41000\n',
        temp1_label: 'Package id 0\n',
      },
      'pci0000:00/0000:01:00.0/nvme/nvme0': {
        name: 'nvme\n',
        temp1_input: '38850\n',
        temp1_label: 'Composite\n',
      },
    };
    const set = await discoverSensors(hwmonFiles(chips));
    const { 'platform/coretemp.0': left } = chips;
    const sample = await readSensors(set, hwmonFiles({ 'platform/coretemp.0': left }), moment(0));
    expect(sample.values[packageId]).toBe(41);
    expect(sample.absent).toEqual({ 'temp/nvme@01:00.0/composite': 'no-such-file' });
  });

  it('never takes a chip for another one that got its number', async () => {
    const a = { name: 'nvme\n', temp1_input: '30000\n' };
    const b = { name: 'nvme\n', temp1_input: '60000\n' };
    const set = await discoverSensors(hwmonFiles({ 'pci0000:00/0000:01:00.0/nvme/nvme0': a }));
    const swapped = hwmonFiles({ 'pci0000:00/0000:02:00.0/nvme/nvme1': b });
    const sample = await readSensors(set, swapped, moment(0));
    expect(sample.absent).toEqual({ 'temp/nvme@01:00.0/temp1': 'no-such-file' });
  });

  it('has the same ids after a boot that gave out other numbers', async () => {
    const chips = {
      'platform/coretemp.0': {
        name: 'coretemp\n',
        temp1_input: '41000\n',
        temp1_label: 'Package id 0\n',
      },
      'pci0000:00/0000:01:00.0/nvme/nvme0': { name: 'nvme\n', temp1_input: '38850\n' },
      'pci0000:00/0000:02:00.0/nvme/nvme1': { name: 'nvme\n', temp1_input: '44850\n' },
    };
    const before = await discoverSensors(hwmonFiles(chips));
    const turned = Object.fromEntries(
      Object.entries(chips)
        .reverse()
        .map(([device, files]) => [
          device.replace(/nvme(\d)$/, (_, n) => `nvme${1 - Number(n)}`),
          files,
        ]),
    );
    const files = hwmonFiles(turned);
    const after = await discoverSensors(files);
    const ids = (set: typeof before) => set.table.sensors.map(({ id }) => id);
    expect(ids(after)).toEqual(ids(before));
    const sample = await readSensors(after, files, moment(0));
    expect(sample.values).toMatchObject({
      [packageId]: 41,
      'temp/nvme@01:00.0/temp1': 38.85,
      'temp/nvme@02:00.0/temp1': 44.85,
    });
    expect(after.table.sensors[0]?.source).not.toBe(before.table.sensors[0]?.source);
  });

  it('leaves a sleeping graphics card asleep', async () => {
    const card = {
      name: 'amdgpu\n',
      temp1_input: '42000\n',
      'device/power/runtime_status': 'suspended\n',
    };
    const files = hwmonFiles({ 'pci0000:00/0000:03:00.0': card });
    const set = await discoverSensors(files);
    const sample = await readSensors(set, files, moment(0));
    expect(sample.absent).toEqual({ 'temp/amdgpu@03:00.0/temp1': 'asleep' });
    expect(files.reads.filter((path) => path.endsWith('temp1_input'))).toEqual([]);
  });

  it('does without throttling counters when one of them is gone, since the sum would fall', async () => {
    const set = await discoverSensors(coretemp);
    const offline = failingFiles(coretemp, /cpu[01]\/thermal_throttle/, systemError('ENOENT'));
    const sample = await readSensors(set, offline, moment(0));
    expect(sample.absent).toMatchObject({ 'throttle/core/count': 'no-such-file' });
    expect(sample.values['throttle/package/count']).toBe(3);
  });
});

describe('how often', () => {
  it('each sensor is read is its own matter; edges of runs get all counters', async () => {
    const files = countingReads();
    const set = await discoverSensors(files);
    const times = async (atSeconds: number, edge: boolean) => {
      files.reads.length = 0;
      await readSensors(set, files, moment(atSeconds, edge));
      const count = (pattern: RegExp) => files.reads.filter((path) => pattern.test(path)).length;
      return [
        count(/coretemp.*temp1_input/),
        count(/throttle_count/),
        count(/nvme.*input/),
        count(/drivetemp|ata1/),
      ];
    };
    const throttle = 24;
    expect(await times(0, false)).toEqual([1, throttle, 1, 1]);
    expect(await times(1, false)).toEqual([1, 0, 0, 0]);
    expect(await times(1.4, false)).toEqual([0, 0, 0, 0]);
    expect(await times(1.5, true)).toEqual([1, throttle, 0, 0]);
    expect(await times(10.01, false)).toEqual([1, throttle, 1, 0]);
    expect(await times(60, false)).toEqual([1, throttle, 1, 1]);
  });

  it('is not upset by a timer that fires a little early', async () => {
    const files = countingReads();
    const set = await discoverSensors(files);
    await readSensors(set, files, moment(0));
    const sample = await readSensors(set, files, moment(0.98));
    expect(sample.values[packageId]).toBe(41);
  });
});

describe('a reading that hangs', () => {
  it('is late, is not asked again, and does not hold up the others', async () => {
    const set = await discoverSensors(coretemp);
    let asked = 0;
    const hanging = {
      ...coretemp,
      readText: (path: string) => {
        if (!/nvme.*temp1_input/.test(path)) return coretemp.readText(path);
        asked += 1;
        return new Promise<string>(() => {});
      },
    };
    const id = 'temp/nvme@01:00.0/composite';
    const first = await readSensors(set, hanging, moment(0), impatient());
    expect(first.absent).toEqual({ [id]: 'late' });
    expect(first.values[packageId]).toBe(41);
    const second = await readSensors(set, hanging, moment(10), impatient());
    expect(second.absent).toEqual({ [id]: 'late' });
    expect(asked).toBe(1);
  });
});

/** Waits for what can still come, then gives up: no time passes. */
function impatient(): Within {
  return async (work) => {
    const outcome = await Promise.race([work, manyTurns()]);
    return outcome === undefined ? 'late' : outcome;
  };
}

async function manyTurns(): Promise<undefined> {
  for (let turn = 0; turn < 2000; turn += 1) await new Promise((resolve) => setImmediate(resolve));
  return undefined;
}

function countingReads() {
  const reads: string[] = [];
  return {
    ...coretemp,
    reads,
    readText: (path: string) => {
      reads.push(path);
      return coretemp.readText(path);
    },
  };
}
