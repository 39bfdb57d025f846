import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { earlierIdle } from '../../../src/api/earlier-idle.ts';
import type { RunTelemetry } from '../../../src/model/telemetry.ts';
import { sampleRun } from '../../setup/samples.ts';
import { sittingOn, storeSitting } from '../../setup/sitting-folder.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';

const telemetry: RunTelemetry = {
  samples: 1,
  absent: {},
  startTemperature: 41.5,
  ...{ meanTemperature: null, maxTemperature: null, meanClockHz: null, meanFastestClockHz: null },
  ...{ energyJoules: null, throttleEvents: null, throttleSeconds: null, stealShare: null },
  ...{ cpuPressureSome: null, memoryPressureSome: null, memoryPressureFull: null },
  ...{ ioPressureSome: null, ioPressureFull: null },
};

describe('the temperature at rest in earlier sittings', () => {
  it('is that of the latest one of this rig label that knows it', async () => {
    const results = temporaryFolder();
    const store = (...args: Parameters<typeof sittingOn>) =>
      storeSitting(results, sittingOn(...args));
    await store(1, 'bench-a', { idleCelsius: 33 });
    const conditions = { ambientCelsius: 19, notes: null };
    await store(2, 'bench-a', { idleCelsius: 35, conditions });
    await store(3, 'bench-a', { idleCelsius: null });
    await store(4, 'bench-b', { idleCelsius: 60 });
    await store(5, 'old-bench-a', { idleCelsius: 70 });
    await store(6, 'bench-a-2', { idleCelsius: 80 });
    expect(await earlierIdle(results, 'bench-a')).toEqual({
      startedAt: '2026-01-02T20:15:00.000Z',
      celsius: 35,
      ambientCelsius: 19,
    });
  });

  it('is else what the first run began with', async () => {
    const results = temporaryFolder();
    const sitting = sittingOn(1, 'bench-a', { idleCelsius: null });
    await storeSitting(results, sitting, [sampleRun({ telemetry })]);
    expect(await earlierIdle(results, 'bench-a')).toMatchObject({ celsius: 41.5 });
  });

  it('is null where nothing is known, and damaged folders are passed over', async () => {
    const results = temporaryFolder();
    expect(await earlierIdle(join(results, 'not-there'), 'bench-a')).toBeNull();
    expect(await earlierIdle(results, 'bench-a')).toBeNull();
    await storeSitting(results, sittingOn(1, 'bench-a', { idleCelsius: 33 }));
    const damaged = await storeSitting(results, sittingOn(2, 'bench-a', { idleCelsius: 34 }));
    writeFileSync(join(damaged, 'data/sitting.json'), '{');
    const bare = await storeSitting(results, sittingOn(3, 'bench-a', { idleCelsius: 35 }));
    rmSync(join(bare, 'data'), { recursive: true });
    mkdirSync(join(results, '20260104T201500Z-bench-a-harbour-0404'));
    expect(await earlierIdle(results, 'bench-a')).toMatchObject({ celsius: 33 });
  });
});
