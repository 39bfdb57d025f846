import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readSitting } from '../../src/results/read-sitting.ts';
import { tarOf } from '../setup/archives.ts';
import { runCli } from '../setup/cli.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';
import { unwrap } from '../setup/unwrap.ts';

const suite = `suite: harbour
title: Harbour Lane (invented)
repeats: 1
warm-ups: 0
cooldown: 0 s
programs:
  wc: { version: { argv: [wc, --version], pattern: 'wc \\(.*\\) (\\d[\\d.]*)' }, debian: coreutils, at-least: 1 }
  no-such-program-here: { debian: no-such-package }
workloads:
  - id: count
    kind: command
    argv: [wc, -c, '{input:words}', '{input:tree}/a/b', '{input:own}']
    inputs:
      words: { generate: text, size: 100 kB, seed: 3 }
      tree: { archive: tree.tar }
      own: { path: own.txt }
    metrics:
      bytes: { from: pattern, pattern: '(\\d+) total', unit: B, better: lower }
  - { id: absent, kind: command, argv: [no-such-program-here] }
`;

/** A folder with a suite whose second workload has no program here. */
function bench(): string {
  const cwd = temporaryFolder();
  writeFileSync(join(cwd, 'suite.yaml'), suite);
  writeFileSync(join(cwd, 'tree.tar'), tarOf([{ name: 'a/b', content: '1234' }]));
  writeFileSync(join(cwd, 'own.txt'), '567');
  return cwd;
}

const options = ['suite.yaml', '--cache', 'cache'];

describe('programs and inputs of a suite', () => {
  it('are told by check, which prepares nothing and ends with the command that installs', async () => {
    const cwd = bench();
    const { code, stdout } = await runCli(['check', ...options], cwd);
    expect(code).toBe(3);
    const text = stdout.replace(/\s+/g, ' ');
    expect(text).toContain('program no-such-program-here is not found; needed by absent');
    expect(text).toContain('count: input words (97.66 KiB of generated text, seed 3) is made when');
    expect(existsSync(join(cwd, 'cache'))).toBe(false);
    for (const line of stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
    if (existsSync('/etc/debian_version'))
      expect(stdout).toMatch(/as root:\n {2}apt-get install no-such-package\n$/);
  });

  it('that are missing keep run from measuring anything', async () => {
    const cwd = bench();
    const { code, stdout, stderr } = await runCli(['run', ...options], cwd);
    expect(code).toBe(3);
    expect(stdout).not.toContain('sitting started');
    expect(stderr).toContain('no-such-program-here is not found');
    expect(readdirSync(cwd).sort()).toEqual(['own.txt', 'suite.yaml', 'tree.tar']);
  });

  it('are in the result, with what was left out for lack of a program', async () => {
    const cwd = bench();
    const run = await runCli(['run', ...options, '--skip-missing'], cwd);
    expect(run.code, run.stderr).toBe(0);
    expect(run.stdout).toContain('preparing input words: generating');
    expect(run.stdout).toContain('left out: program no-such-program-here is not found');
    const [id = ''] = readdirSync(join(cwd, 'results'));
    const { sitting, runs } = unwrap(await readSitting(join(cwd, 'results', id)));
    expect(sitting.programs).toMatchObject([{ name: 'wc', version: expect.stringMatching(/^\d/) }]);
    expect(sitting.inputs).toMatchObject([
      { workload: 'count', name: 'words', bytes: 100_000 },
      { workload: 'count', name: 'tree' },
      { workload: 'count', name: 'own', bytes: 3 },
    ]);
    expect(sitting.leftOut).toEqual([
      { workload: 'absent', reason: 'program no-such-program-here is not found' },
    ]);
    expect(sitting.suite.resolved.workloads).toHaveLength(2);
    expect(runs.map(({ workload, metrics }) => [workload, metrics[0]?.value])).toEqual([
      ['count', 100_007],
    ]);
    const shown = await runCli(['show'], cwd);
    expect(shown.stdout).toContain('left out: program no-such-program-here is not found');
    const again = await runCli(['run', ...options, '--skip-missing'], cwd);
    expect(again.stdout).not.toContain('preparing');
    const verified = await runCli(['verify', join('results', id)], cwd);
    expect(verified.code).toBe(0);
  });

  it('refuse when nothing would be left, or an archive is hostile', async () => {
    const cwd = bench();
    writeFileSync(
      join(cwd, 'alone.yaml'),
      suite.replace(/ {2}- id: count[\s\S]*? {2}- \{/, '  - {').replace(/ {2}wc:.*\n/, ''),
    );
    const alone = await runCli(['run', 'alone.yaml', '--skip-missing'], cwd);
    expect(alone.code, alone.stderr).toBe(3);
    writeFileSync(join(cwd, 'tree.tar'), tarOf([{ name: '../evil', content: 'x' }]));
    const hostile = await runCli(['run', ...options, '--skip-missing'], cwd);
    expect(hostile.code).toBe(3);
    expect(hostile.stderr.replace(/\s+/g, ' ')).toContain('an entry "../evil" that leads upwards');
    expect(existsSync(join(cwd, 'results'))).toBe(false);
    expect(existsSync(join(cwd, 'evil'))).toBe(false);
  });

  it('are kept where XDG_CACHE_HOME says', async () => {
    const cwd = bench();
    const before = process.env['XDG_CACHE_HOME'];
    process.env['XDG_CACHE_HOME'] = join(cwd, 'xdg');
    const { code } = await runCli(['run', 'suite.yaml', '--skip-missing'], cwd);
    if (before === undefined) delete process.env['XDG_CACHE_HOME'];
    else process.env['XDG_CACHE_HOME'] = before;
    expect(code).toBe(0);
    const kept = join(cwd, 'xdg', 'steadyrig', 'generated-1', 'text-100000-3.txt');
    expect(readFileSync(kept)).toHaveLength(100_000);
  });
});
