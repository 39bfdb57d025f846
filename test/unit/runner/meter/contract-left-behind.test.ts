import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { auxiliaryMark } from '../../../../src/runner/meter/measured-environment.ts';
import { readProcessTable } from '../../../../src/runner/meter/process-table.ts';
import { needs } from '../../../setup/needs.ts';
import { fixture, isAlive, meterNames, openTestMeter, type TestMeter } from './harness.ts';

const python = needs.program('python3');
const setsid = needs.program('setsid');

describe.each(meterNames)('the %s meter and processes left behind', (name) => {
  let test: TestMeter;
  beforeAll(async () => {
    test = await openTestMeter(name);
  });
  afterAll(() => test.close());

  it('counts none for a program that waits for its children', async () => {
    const ended = await test.run(['sh', '-c', 'true & true & wait; sh -c "sleep 0.01"']);
    expect(ended.leftBehind).toBe(0);
  });

  it.skipIf(setsid.missing)(
    'ends and counts those in its group and in other sessions',
    async () => {
      const ended = await test.run([fixture('orphan-child.sh'), join(test.folder, 'stdout')]);
      expect(ended.exit).toEqual({ kind: 'code', code: 3 });
      expect(ended.leftBehind).toBe(2);
      const pids = test.stdout().trim().split('\n').map(Number);
      expect(pids.map(isAlive)).toEqual([false, false]);
    },
  );

  it.skipIf(python.missing)('ends and counts a daemon', async () => {
    const ended = await runDaemon(test, 'full');
    expect(ended).toEqual({ leftBehind: 1, alive: false });
  });

  // Without the kernel's help a daemon that drops the mark and leaves its session can't be told from others.
  if (name === 'kernel')
    it.skipIf(python.missing)('ends and counts a daemon that cleaned its environment', async () => {
      const ended = await runDaemon(test, 'clean');
      expect(ended).toEqual({ leftBehind: 1, alive: false });
    });

  it.skipIf(python.missing)('ends hundreds of grandchildren in sessions of their own', async () => {
    const ended = await test.run(['/usr/bin/env', 'python3', fixture('many-orphans.py'), '200']);
    expect(ended.leftBehind).toBe(200);
  });

  it('waits, after a stop, for the rest of the group before it counts', async () => {
    const script =
      '(trap "sleep 0.2; exit" TERM; while :; do sleep 0.01; done) & trap - TERM; sleep 600';
    const ended = await test.run(['sh', '-c', script], { timeLimitSeconds: 0.3 });
    expect(ended.stopped).toEqual({ cause: 'time-limit', forced: false });
    expect(ended.leftBehind).toBe(0);
  });

  it('counts, after a stop, those that outlive the grace time, as a stop by force', async () => {
    const script = '(trap "" TERM; while :; do sleep 0.01; done) & sleep 600';
    const ended = await test.run(['sh', '-c', script], {
      timeLimitSeconds: 0.3,
      graceSeconds: 0.3,
    });
    expect(ended.exit).toEqual({ kind: 'signal', signal: 'SIGTERM' });
    expect(ended.stopped).toEqual({ cause: 'time-limit', forced: true });
    expect(ended.leftBehind).toBeGreaterThanOrEqual(1);
  });

  it('leaves children of this process alone, and Node hears of their end', async () => {
    const plain = spawn('sleep', ['600']);
    const auxiliary = spawn('sleep', ['600'], {
      detached: true,
      env: { ...process.env, [auxiliaryMark]: '1' },
    });
    let brief: Promise<unknown> | null = null;
    await test.run(['sh', '-c', 'sleep 600 & sleep 0.05'], {
      onStart: () => {
        brief = once(spawn('true', { detached: true }), 'exit');
      },
    });
    expect([plain, auxiliary].map(({ pid }) => isAlive(pid!))).toEqual([true, true]);
    await brief;
    for (const child of [plain, auxiliary]) {
      const exit = once(child, 'exit');
      child.kill('SIGKILL');
      expect((await exit)[1]).toBe('SIGKILL');
    }
  });

  it('leaves no zombies of a run', async () => {
    await test.run(['sh', '-c', 'sleep 600 & (sleep 0.01 &) ; (sh -c "sleep 0.02" &)']);
    await test.run(['true']);
    const zombies = readProcessTable().filter(
      ({ parent, state }) => parent === process.pid && state === 'Z',
    );
    expect(zombies).toEqual([]);
  });
});

async function runDaemon(test: TestMeter, environment: string) {
  const file = join(test.folder, `daemon-${environment}`);
  const { leftBehind } = await test.run([
    '/usr/bin/env',
    'python3',
    fixture('daemonize.py'),
    file,
    environment,
  ]);
  return { leftBehind, alive: isAlive(Number(readFileSync(file, 'utf8'))) };
}
