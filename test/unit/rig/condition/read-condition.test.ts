import { describe, expect, it } from 'vitest';
import type { Sample, SensorTable } from '../../../../src/model/telemetry.ts';
import {
  readMovingCondition,
  readRigCondition,
} from '../../../../src/rig/condition/read-condition.ts';
import { type RigFiles, rigFiles } from '../../../../src/rig/rig-files.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';
import { failingFiles, memoryFiles, systemError } from '../memory-files.ts';
import { rigRoot } from '../rigs.ts';

const table: SensorTable = {
  schema: 'steadyrig/sensors/1',
  at: '2026-01-31T20:15:00.000Z',
  sensors: [],
  absent: [],
  main: { sensors: ['temp/a', 'temp/b'], nature: 'die', critical: 100, passedOver: [] },
};

function sampler(...values: readonly Sample['values'][]): () => Promise<Sample> {
  const left = [...values];
  return async () => ({
    schema: 'steadyrig/sample/1',
    atSeconds: 0,
    at: '2026-01-31T20:15:00.000Z',
    values: left.shift() ?? {},
  });
}

function conditionOf(files: RigFiles, sample = sampler({}, {})) {
  const folder = temporaryFolder();
  return readRigCondition({
    ...{ files, table, sample, ownPid: 1, ownUid: 1000, pause: async () => undefined },
    ...{ results: `${folder}/not/yet`, scratch: folder, now: new Date(0) },
    queryTimers: async () => '[{"next":60000000,"unit":"trim.timer"}]',
  });
}

describe('the condition of a rig', () => {
  it('is gathered from a whole desktop', async () => {
    const condition = await conditionOf(
      rigFiles(rigRoot('desktop-coretemp')),
      sampler(
        { 'temp/a': 40, 'throttle/core/count': 5, 'throttle/package/count': 7 },
        { 'temp/a': 41, 'temp/b': 43, 'throttle/core/count': 5, 'throttle/package/count': 9 },
      ),
    );
    expect(condition).toMatchObject({
      power: null,
      frequency: { drivers: ['intel_pstate'], governors: ['powersave'], boost: true },
      heat: { celsius: 43, critical: 100, throttleEvents: 2 },
      confinement: { hypervisor: false, usableCpus: 12, onlineCpus: 12, cpuLimit: null },
      clockSource: 'tsc',
      otherSessions: null,
      timers: [{ name: 'trim.timer', inSeconds: 60 }],
      resultsFileSystem: 'ext4',
    });
    const limited = await conditionOf(rigFiles(rigRoot('desktop-k10temp')));
    expect(limited.confinement).toMatchObject({ cpuLimit: 12, usableCpus: 16 });
    expect(limited.heat).toEqual({ celsius: null, critical: 100, throttleEvents: null });
  });

  it('is open, and no failure, where every file is missing or closed', async () => {
    const open = {
      background: null,
      power: null,
      frequency: {
        drivers: [],
        governors: [],
        energyPreferences: [],
        boost: null,
        platformProfile: null,
      },
      swap: null,
      otherSessions: null,
      clockSource: null,
      reboot: { isAskedFor: false, running: null, newer: null },
      resultsFileSystem: null,
      kernel: { debugAids: [], troubles: [] },
    };
    expect(await conditionOf(memoryFiles({}))).toMatchObject(open);
    const desktop = rigFiles(rigRoot('desktop-coretemp'));
    const closed = failingFiles(desktop, /./, systemError('EACCES'));
    expect(await conditionOf(closed)).toMatchObject({ ...open, kernel: expect.anything() });
  });
});

describe('the moving part of it', () => {
  it('looks twice at what is counted, with the pause between', async () => {
    let passed = 0;
    const files: RigFiles = {
      ...memoryFiles({}),
      list: async () => [],
      readText: async (path) => {
        if (path === '/proc/stat') return `cpu  ${100 + passed} 0 0 ${passed} 0 0 0 0\ncpu0 1\n`;
        if (path === '/proc/vmstat') return `pswpin ${passed}\npswpout ${2 * passed}\n`;
        if (path === '/proc/meminfo') return 'SwapTotal: 2048 kB\nSwapFree: 1024 kB\n';
        throw systemError('ENOENT');
      },
    };
    const moving = await readMovingCondition({
      ...{ files, ownPid: 1, ownUid: 0 },
      pause: async () => {
        passed = 50;
      },
    });
    expect(moving.background).toMatchObject({ others: 0.5, causes: [] });
    expect(moving.swap).toEqual({ totalBytes: 2 ** 21, usedBytes: 2 ** 20, pagesMoved: 150 });
  });
});
