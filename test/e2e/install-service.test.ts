import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { runCli, startCli } from '../setup/cli.ts';
import { theFolder, untilGo, untilRunning, writeSuite } from '../setup/command-suite.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

afterEach(() => vi.unstubAllEnvs());

/** A killed sitting, a home of units of its own, and a systemctl that only notes what it is asked. */
async function bench(): Promise<{ cwd: string; id: string; unit: string; asked: string }> {
  const cwd = temporaryFolder();
  const asked = join(cwd, 'asked');
  const programs = join(cwd, 'programs');
  mkdirSync(programs);
  writeFileSync(join(programs, 'systemctl'), `#!/bin/sh\necho "$@" >> ${asked}\n`);
  chmodSync(join(programs, 'systemctl'), 0o755);
  vi.stubEnv('PATH', `${programs}${delimiter}${process.env['PATH']}`);
  vi.stubEnv('XDG_CONFIG_HOME', join(cwd, 'config'));
  const suite = writeSuite(cwd, { slow: untilGo(join(cwd, 'go')) });
  const log = join(cwd, 'log');
  const { child, finished } = startCli(['run', suite, '--log', log], cwd);
  await untilRunning(log, 0);
  child.kill('SIGKILL');
  await finished;
  const id = theFolder(join(cwd, 'results')).slice(-4);
  const [, name = ''] = theFolder(join(cwd, 'results')).split('results/');
  const unit = join(cwd, 'config/systemd/user', `steadyrig-${name}.service`);
  return { cwd, id, unit, asked };
}

describe('install-service', () => {
  it('prints the unit, writes nothing without a yes, then writes, enables and removes it', async () => {
    const { cwd, id, unit, asked } = await bench();
    const printed = await runCli(['install-service', '--print'], cwd);
    expect(printed).toMatchObject({ code: 0, stderr: '' });
    expect(printed.stdout).toMatch(/^ExecStart=.*"continue" ".*results\/.*" "--from-service"$/m);
    const unasked = await runCli(['install-service', id], cwd);
    expect(unasked.code).toBe(2);
    expect(unasked.stdout).toContain('loginctl enable-linger');
    expect(unasked.stderr).toContain('nothing was written');
    expect([existsSync(unit), existsSync(asked)]).toEqual([false, false]);
    const written = await runCli(['install-service', id, '--yes'], cwd);
    expect(written.code).toBe(0);
    expect(readFileSync(unit, 'utf8')).toBe(printed.stdout);
    const name = unit.split('/').at(-1);
    expect(readFileSync(asked, 'utf8')).toBe(`--user daemon-reload\n--user enable ${name}\n`);
    expect((await runCli(['install-service', id, '--remove'], cwd)).code).toBe(0);
    expect(existsSync(unit)).toBe(false);
    expect(readFileSync(asked, 'utf8')).toContain(`--user disable ${name}\n--user daemon-reload\n`);
    expect((await runCli(['install-service', id, '--remove'], cwd)).stderr).toContain('no service');
  });

  it('goes on with the sitting as the unit says, and takes itself away at its end', async () => {
    const { cwd, id, unit } = await bench();
    expect((await runCli(['install-service', id, '--yes'], cwd)).code).toBe(0);
    const words = /^ExecStart=(.*)$/m.exec(readFileSync(unit, 'utf8'))?.[1] ?? '';
    const args = words.split(' ').map((word) => word.slice(1, -1));
    writeFileSync(join(cwd, 'go'), '');
    const served = await runCli(args.slice(2), '/');
    expect(served.code).toBe(0);
    expect(served.stdout).toContain('complete and sealed');
    expect(existsSync(unit)).toBe(false);
    expect((await runCli(['verify', 'latest'], cwd)).code).toBe(0);
    const sealed = await runCli(['install-service', id], cwd);
    expect(sealed).toMatchObject({ code: 2, stderr: expect.stringContaining('is sealed') });
  });
});
