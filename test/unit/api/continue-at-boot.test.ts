import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { continueAtBoot } from '../../../src/api/service/continue-at-boot.ts';
import { lockSitting } from '../../../src/api/sitting-lock.ts';
import { readServiceState } from '../../../src/results/service-files.ts';
import { verifySeal } from '../../../src/results/verify.ts';
import { systemClock } from '../../../src/runner/clock.ts';
import { interruptedSitting } from '../../setup/interrupted-sitting.ts';
import { unwrap } from '../../setup/unwrap.ts';

/** Nobody waits for an invented machine to settle. */
const clock = {
  ...systemClock,
  uptimeSeconds: () => 30,
  sleep: (seconds: number, signal: AbortSignal) =>
    systemClock.sleep(Math.min(seconds, 0.02), signal),
};

const atBoot = (folder: string, root: string) =>
  continueAtBoot(folder, { root, clock, telemetry: false });

/** The invented machine is started again, the `count`th time. */
function boot(root: string, count: number): void {
  const id = `0d9f4a52-7c1e-4b53-9a64-${String(count).padStart(12, '0')}`;
  writeFileSync(join(root, 'proc/sys/kernel/random/boot_id'), `${id}\n`);
}

const setKernel = (root: string, release: string): void =>
  writeFileSync(join(root, 'proc/sys/kernel/osrelease'), `${release}\n`);

describe('a sitting continued at boot', () => {
  it('waits only where the machine has just been started', async () => {
    for (const [uptime, waits] of [
      [30, true],
      [7200, false],
    ] as const) {
      const { folder, root } = await interruptedSitting();
      const notices: string[] = [];
      await continueAtBoot(folder, {
        ...{ root, telemetry: false, clock: { ...clock, uptimeSeconds: () => uptime } },
        onEvent: (event) => void (event.type === 'notice' && notices.push(event.message)),
      });
      expect(notices.some((text) => text.includes('has settled'))).toBe(waits);
    }
  });

  it('is finished, and nothing of the service is sealed', async () => {
    const { folder, root } = await interruptedSitting();
    boot(root, 1);
    const { state, sitting } = unwrap(await atBoot(folder, root));
    expect(state).toBe('complete');
    expect(sitting.bootIds).toHaveLength(2);
    expect((await verifySeal(folder)).findings).toEqual([]);
  });

  it('is given up after two boots in a row that finished no run, with word left why', async () => {
    const { folder, root } = await interruptedSitting();
    setKernel(root, '9.9.9-invented');
    boot(root, 1);
    expect(await atBoot(folder, root)).toMatchObject({ error: { kind: 'changed' } });
    // Started by hand once more: still the same boot.
    expect(await atBoot(folder, root)).toMatchObject({ error: { kind: 'changed' } });
    expect(await readServiceState(folder)).toMatchObject({ failedBoots: 1 });
    boot(root, 2);
    const gaveUp = await atBoot(folder, root);
    expect(gaveUp).toMatchObject({ ok: false, error: { kind: 'gave-up' } });
    const text = readFileSync(join(folder, 'service-gave-up.txt'), 'utf8');
    const word = text.replaceAll(/\s+/g, ' ');
    expect(word).toContain('2 boots in a row finished no run');
    expect(word).toContain('the rig has changed (os.kernel)');
    boot(root, 3);
    setKernel(root, '6.1.0');
    expect(await atBoot(folder, root)).toEqual(gaveUp);
  });

  it('is given up when the machine went down twice, before it could say anything', async () => {
    const { folder, root } = await interruptedSitting();
    const schema = 'steadyrig/service/1';
    const at = '2026-01-31T20:15:00.000Z';
    const left = { schema, failedBoots: 2, bootId: null, at };
    writeFileSync(join(folder, 'service.json'), JSON.stringify(left));
    const gaveUp = await atBoot(folder, root);
    expect(gaveUp).toMatchObject({
      error: {
        problem: { message: expect.stringMatching(/the\s+machine\s+went\s+down\s+before/) },
      },
    });
  });

  it('starts counting anew once a run is finished', async () => {
    const { folder, root } = await interruptedSitting();
    const kernel = readFileSync(join(root, 'proc/sys/kernel/osrelease'), 'utf8').trim();
    setKernel(root, '9.9.9-invented');
    boot(root, 1);
    await atBoot(folder, root);
    setKernel(root, kernel);
    boot(root, 2);
    const files: boolean[] = [];
    const outcome = await continueAtBoot(folder, {
      ...{ root, clock, telemetry: false },
      onEvent: ({ type }) => {
        if (type === 'run-started') files.push(existsSync(join(folder, 'service.json')));
      },
    });
    const state = await readServiceState(folder);
    expect(unwrap(outcome).state).toBe('complete');
    expect(files[0]).toBe(true);
    expect(state).toBeNull();
  });

  it('does not count a boot in which somebody measures already', async () => {
    const { folder, root } = await interruptedSitting();
    const lock = unwrap(await lockSitting('a test'));
    try {
      expect(await atBoot(folder, root)).toMatchObject({ error: { kind: 'busy' } });
      expect(await readServiceState(folder)).toBeNull();
    } finally {
      await lock.release();
    }
  });
});
