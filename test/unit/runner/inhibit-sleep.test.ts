import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmodSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { builtPath } from '../../../src/lib/built-path.ts';
import { inhibitSleep } from '../../../src/runner/inhibit-sleep.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { until } from './meter/harness.ts';

/** A stand-in for the real program: notes how it was started, then does as the script says with `$what` and the command. */
function fake(script: string): { readonly path: string; readonly note: (name: string) => string } {
  const folder = temporaryFolder();
  const file = join(folder, 'systemd-inhibit');
  const lines = [
    '#!/bin/sh',
    `echo "$@" >> ${folder}/asked; env > ${folder}/environment; echo $$ > ${folder}/pid`,
    'what=$1; while case $1 in --*) true;; *) false;; esac; do shift; done',
    script,
  ];
  writeFileSync(file, `${lines.join('\n')}\n`);
  chmodSync(file, 0o755);
  return { path: `${folder}:/usr/bin:/bin`, note: (name) => join(folder, name) };
}

const setting = { why: 'measuring harbour on bench-a', onLost: () => undefined };

describe('inhibitSleep', () => {
  it('holds off sleep, idle actions and shutdown until it is released', async () => {
    const { path, note } = fake('"$@"; echo gone > "$(dirname "$0")/gone"');
    const { notInhibited, release } = await inhibitSleep({ ...setting, path });
    expect(notInhibited).toBeNull();
    expect(readFileSync(note('asked'), 'utf8')).toMatch(
      /^--what=sleep:idle:shutdown --mode=block --who=steadyrig --why=measuring harbour on bench-a /,
    );
    expect(existsSync(note('gone'))).toBe(false);
    await release();
    expect(existsSync(note('gone'))).toBe(true);
  });

  it('is marked as ours, so that no run takes it for something it left behind', async () => {
    const { path, note } = fake('exec "$@"');
    const { release } = await inhibitSleep({ ...setting, path });
    expect(readFileSync(note('environment'), 'utf8')).toMatch(/^STEADYRIG_AUX=/m);
    await release();
  });

  it('is not in the terminal’s process group: Ctrl-C is not meant for it', async () => {
    const { path, note } = fake('exec "$@"');
    const { release } = await inhibitSleep({ ...setting, path });
    const pid = readFileSync(note('pid'), 'utf8').trim();
    const group = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]?.split(' ')[2];
    expect(group).toBe(pid);
    await release();
  });

  it('makes do with sleep where only shutdown is refused, and says so', async () => {
    const { path } = fake(
      'case "$what" in *shutdown*) echo "Failed to inhibit: Access denied" >&2; exit 1;; esac; exec "$@"',
    );
    const { notInhibited, release } = await inhibitSleep({ ...setting, path });
    expect(notInhibited).toBe(
      'shutdown is not held off: systemd-inhibit refused: Failed to inhibit: Access denied',
    );
    await release();
  });

  it.each([
    ['refuses', 'echo "Failed to inhibit: Access denied" >&2; exit 1', 'Access denied'],
    ['fails without a word', 'exit 3', 'refused: exit code 3'],
  ])('tells why nothing is held off where the program %s', async (_, script, reason) => {
    const { notInhibited, release } = await inhibitSleep({ ...setting, path: fake(script).path });
    expect(notInhibited).toContain('sleep and shutdown are not held off: systemd-inhibit');
    expect(notInhibited).toContain(reason);
    await release();
  });

  it('tells that there is no such program', async () => {
    const { notInhibited } = await inhibitSleep({ ...setting, path: temporaryFolder() });
    expect(notInhibited).toBe('sleep and shutdown are not held off: systemd-inhibit is not found');
  });

  it('tells once when it ends before it was released', async () => {
    const { path, note } = fake('exec "$@"');
    const told: string[] = [];
    const { release } = await inhibitSleep({ ...setting, path, onLost: () => told.push('lost') });
    process.kill(Number(readFileSync(note('pid'), 'utf8')), 'SIGKILL');
    await until(() => told.length > 0, 'it is told');
    await release();
    expect(told).toEqual(['lost']);
  });

  it('lets go when the agent is killed', async () => {
    const { path, note } = fake('"$@"; echo gone > "$(dirname "$0")/gone"');
    const source = new URL('../../../src/runner/inhibit-sleep.ts', import.meta.url).href;
    const script = `
      const { inhibitSleep } = await import(process.argv[1]);
      await inhibitSleep({ path: process.argv[2], why: 'a test', onLost() {} });
      console.log('held');
      setInterval(() => {}, 1e6);`;
    const agent = spawn(
      process.execPath,
      ['--input-type=module', '-e', script, builtPath('./inhibit-sleep.js', source), path],
      { stdio: ['ignore', 'pipe', 'inherit'] },
    );
    await once(agent.stdout, 'data');
    const exit = once(agent, 'exit');
    agent.kill('SIGKILL');
    await exit;
    await until(() => existsSync(note('gone')), 'it has let go');
  });
});
