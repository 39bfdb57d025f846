import { execFileSync } from 'node:child_process';
import { chmodSync, chownSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { runCli, startCli } from '../setup/cli.ts';
import { theFolder, untilGo, untilRunning, writeSuite } from '../setup/command-suite.ts';
import { needs } from '../setup/needs.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

const isRoot = process.getuid?.() === 0;
const setpriv = needs.program('setpriv');
const main = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));

describe.skipIf(!isRoot || process.platform !== 'linux')('root', () => {
  it('runs workloads as another user, whose name gets into no file', async () => {
    const cwd = temporaryFolder();
    const suite = writeSuite(cwd, { who: 'id -un; id -u; touch mine; cat /etc/shadow || true' });
    const run = await runCli(['run', suite, '--as', 'nobody', '--cache', join(cwd, 'cache')], cwd);
    expect(run).toMatchObject({ code: 0, stderr: '' });
    const folder = theFolder(join(cwd, 'results'));
    const { asOtherUser } = JSON.parse(readFileSync(join(folder, 'data/sitting.json'), 'utf8'));
    expect(asOtherUser).toBe(true);
    const uid = execFileSync('id', ['-u', 'nobody'], { encoding: 'utf8' });
    const log = (stream: string): string =>
      readFileSync(join(folder, `data/logs/0000-who.${stream}.txt`), 'utf8');
    expect(log('stdout')).toBe(`<user>\n${uid}`);
    expect(log('stderr')).toMatch(/permission denied/i);
    expect(() => execFileSync('grep', ['-rlw', 'nobody', folder])).toThrow();
    expect((await runCli(['verify', 'latest'], cwd)).code).toBe(0);
  });

  it('goes on as that user only, unless the change is accepted', async () => {
    const cwd = temporaryFolder();
    const suite = writeSuite(cwd, { slow: untilGo(join(cwd, 'go')) });
    chmodSync(cwd, 0o711);
    const log = join(cwd, 'log');
    const { child, finished } = startCli(['run', suite, '--as', 'nobody', '--log', log], cwd);
    await untilRunning(log, 0);
    child.kill('SIGKILL');
    await finished;
    writeFileSync(join(cwd, 'go'), '');
    const asRoot = await runCli(['continue'], cwd);
    expect(asRoot.code).toBe(3);
    expect(asRoot.stderr).toContain('user: was another than the agent');
    expect((await runCli(['continue', '--as', 'nobody'], cwd)).code).toBe(0);
  });

  it.each([
    ['no-such-user', 'there is no user no-such-user on this system'],
    ['root', 'leave --as out'],
  ])('is told when %s cannot be the other user', async (name, why) => {
    const cwd = temporaryFolder();
    const suite = writeSuite(cwd, { one: 'exit 0' });
    const run = await runCli(['run', suite, '--as', name], cwd);
    expect(run).toMatchObject({ code: 2, stderr: expect.stringContaining(why) });
  });

  it('refuses a suite that others can write to, but not as another user', async () => {
    const cwd = temporaryFolder();
    const suite = writeSuite(cwd, { one: 'exit 0' });
    chmodSync(suite, 0o666);
    for (const command of ['run', 'check']) {
      const refused = await runCli([command, suite], cwd);
      expect(refused.code).toBe(2);
      expect(refused.stderr).toContain('everybody can write to (mode 0666)');
      expect(refused.stderr).toContain('chmod go-w');
    }
    const run = await runCli(['run', suite, '--as', 'nobody', '--cache', join(cwd, 'cache')], cwd);
    expect(run.code).toBe(0);
  });
});

describe.skipIf(!isRoot || setpriv.missing)('a user without rights', () => {
  it('measures, and cannot ask for another user', () => {
    const cwd = temporaryFolder();
    const own = join(cwd, 'own');
    mkdirSync(own);
    const suite = writeSuite(own, { who: 'id -u' });
    chmodSync(cwd, 0o711);
    chownSync(own, 54_321, 54_321);
    const ids = ['--reuid=54321', '--regid=54321', '--clear-groups'];
    const asUser = (...args: string[]): string =>
      execFileSync('setpriv', [...ids, process.execPath, main, ...args], {
        cwd: own,
        env: { PATH: process.env['PATH'], HOME: own, STEADYRIG_NO_INHIBIT: '1' },
        encoding: 'utf8',
        stdio: 'pipe',
      });
    expect(asUser('run', suite, '--acknowledge')).toContain('complete and sealed, all runs good');
    const log = join(theFolder(join(own, 'results')), 'data/logs/0000-who.stdout.txt');
    expect(readFileSync(log, 'utf8')).toBe('54321\n');
    expect(() => asUser('run', suite, '--acknowledge', '--as', 'nobody')).toThrow(
      'only root can run workloads as another user',
    );
  });
});
