import { spawnSync } from 'node:child_process';
import { lstatSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { main } from '../setup/cli.ts';
import { theFolder, writeSuite } from '../setup/command-suite.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

/** The compiled command, in a process that takes no permission away from what it creates. */
function withoutUmask(args: readonly string[], cwd: string): ReturnType<typeof spawnSync> {
  return spawnSync('/bin/sh', ['-c', 'umask 0; exec "$@"', 'sh', process.execPath, main, ...args], {
    cwd,
    encoding: 'utf8',
    env: { ...process.env, STEADYRIG_NO_INHIBIT: '1' },
  });
}

function modeOf(path: string): string {
  return (lstatSync(path).mode & 0o777).toString(8);
}

describe('what a sitting leaves, with a umask of 0', () => {
  it('can be changed by its owner alone, and logs of runs be read by the owner alone', () => {
    const cwd = temporaryFolder();
    // What the program sees of its own streams: nobody else reads them while it runs either.
    const suite = writeSuite(cwd, { one: 'stat -L -c %a /proc/self/fd/1 /proc/self/fd/2' });
    const log = join(cwd, 'events.log');
    const args = ['run', suite, '--acknowledge', '--log', log];
    expect(withoutUmask(args, cwd)).toMatchObject({ status: 0, stderr: '' });
    expect(modeOf(log)).toBe('644');
    expect(modeOf(join(cwd, 'results'))).toBe('755');
    const folder = theFolder(join(cwd, 'results'));
    const entries = readdirSync(folder, { withFileTypes: true, recursive: true });
    const logs = entries.filter(({ name }) => name.endsWith('.txt') && name.startsWith('0'));
    expect(logs.length).toBeGreaterThan(2);
    for (const entry of entries) {
      const path = join(entry.parentPath, entry.name);
      const wanted = entry.isDirectory() ? '755' : logs.includes(entry) ? '600' : '644';
      expect(`${path} ${modeOf(path)}`).toBe(`${path} ${wanted}`);
    }
    const printed = join(folder, 'data/logs/0000-one.stdout.txt');
    expect(spawnSync('cat', [printed], { encoding: 'utf8' }).stdout).toBe('600\n600\n');
  });
});
