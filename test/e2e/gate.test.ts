import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { main, runCli } from '../setup/cli.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

const suite = `suite: guard
title: Guarded work (invented example)
repeats: 1
warm-ups: 0
cooldown: 0 s
difference-that-matters: 20 %
workloads:
  - id: sums
    title: Sums
    kind: command
    inputs: { code: { path: work.mjs } }
    argv: [node, '{input:code}']
    metrics: { cpu: { from: accounting, reading: user } }
`;
/** Work of so many steps: ten times as many are far beyond what a busy machine can hide or feign. */
const work = (steps: number): string =>
  `let sum = 0;\nfor (let at = 1; at < ${steps}; at += 1) sum = (sum * 31 + at) % 65521;\nif (sum < 0) process.exitCode = 1;\n`;
const quick = 1e7;
const slow = 1e8;

function checkout(folder: string, steps: number): void {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'guard.yaml'), suite);
  writeFileSync(join(folder, 'work.mjs'), work(steps));
}
const measuring = ['--acknowledge', '--no-telemetry'];

describe('steadyrig gate', () => {
  it('is guarded by a baseline: fails what became worse, after measuring it twice, and writes why', async () => {
    const cwd = temporaryFolder();
    checkout(cwd, quick);
    for (const _ of [1, 2]) {
      const { code } = await runCli(
        ['run', 'guard.yaml', '--rig', 'runner', ...measuring, '--unattended', '--no-inhibit'],
        cwd,
      );
      expect(code).toBe(0);
    }
    expect((await runCli(['baseline', 'set', 'main', 'runner'], cwd)).code).toBe(0);
    const taken = await runCli(['baseline', 'set', 'main', 'runner:latest'], cwd);
    expect(taken).toMatchObject({ code: 2 });
    expect(taken.stderr).toContain('main is set already');
    writeFileSync(join(cwd, 'work.mjs'), work(slow));
    const outputs = ['--junit', 'g.xml', '--tap', 'g.tap', '--markdown', 'g.md', '--json'];
    const { code, stdout } = await runCli(
      ['gate', 'guard.yaml', '--baseline', 'main', ...measuring, ...outputs],
      cwd,
    );
    const gate = JSON.parse(stdout);
    expect(code).toBe(1);
    expect(gate).toMatchObject({ finding: 'worse', passes: false, baseline: 'main' });
    expect(gate.candidateSittings.length).toBeGreaterThanOrEqual(2);
    expect(gate.rows[0]).toMatchObject({ workload: 'sums', line: 8, allowed: 0.2 });
    expect(gate.rows[0].ratio).toBeLessThan(0.5);
    expect(readFileSync(join(cwd, 'g.xml'), 'utf8')).toContain('<failure type="worse"');
    expect(readFileSync(join(cwd, 'g.tap'), 'utf8')).toContain('not ok 1 - sums: cpu');
    expect(readFileSync(join(cwd, 'g.md'), 'utf8')).toContain('FAILS');
    // The recipe of README.md, as it stands there.
    const recipe =
      /```sh\n(steadyrig gate bench\.yaml --baseline main --acknowledge --no-telemetry[\s\S]*?)```/.exec(
        readFileSync(new URL('../../README.md', import.meta.url), 'utf8'),
      )?.[1];
    writeFileSync(
      join(cwd, 'steadyrig'),
      `#!/bin/sh\nexec "${process.execPath}" "${main}" "$@"\n`,
      { mode: 0o755 },
    );
    cpSync(join(cwd, 'guard.yaml'), join(cwd, 'bench.yaml'));
    const env = { ...process.env, PATH: `${cwd}:${process.env['PATH']}` };
    expect(spawnSync('sh', ['-c', recipe ?? 'exit 99'], { cwd, env }).status).toBe(1);
    expect(readFileSync(join(cwd, 'gate.xml'), 'utf8')).toContain('failures="1"');
    // What another suite measures is compared with nothing.
    writeFileSync(join(cwd, 'guard.yaml'), suite.replace('repeats: 1', 'repeats: 2'));
    const other = await runCli(['gate', 'guard.yaml', '--baseline', 'main', ...measuring], cwd);
    expect(other.code).toBe(2);
    expect(other.stderr).toContain('measure the baseline anew');
  });

  it('measures two checkouts in turn on this machine, and says which way it went', async () => {
    const folder = temporaryFolder();
    checkout(join(folder, 'old'), slow);
    checkout(join(folder, 'new'), quick);
    const cwd = join(folder, 'new');
    const { code, stdout } = await runCli(
      ['gate', 'guard.yaml', '--interleave', '../old', '--pairs', '2', ...measuring, '--json'],
      cwd,
    );
    const gate = JSON.parse(stdout);
    expect(code).toBe(0);
    expect(gate).toMatchObject({ finding: 'better', passes: true, baseline: null });
    // ABBA by the times in their names.
    const order = [
      ...gate.baselineSittings.map((id: string) => `${id} old`),
      ...gate.candidateSittings.map((id: string) => `${id} new`),
    ]
      .sort()
      .map((text) => text.split(' ')[1]);
    expect(order).toEqual(['old', 'new', 'new', 'old']);
  });

  it.each<[string, readonly string[], string]>([
    ['neither a baseline nor a checkout', [], 'name a --baseline'],
    ['a baseline that is not set', ['--baseline', 'main'], 'none is set yet'],
    [
      'a workload that the suite has not',
      ['--baseline', 'main', '--allow', 'packing=3%'],
      'the suite has no workload packing',
    ],
    [
      'a time that is none',
      ['--baseline', 'main', '--time-budget', 'long'],
      'option --time-budget',
    ],
    ['a checkout without the suite', ['--interleave', '/nonexistent'], '/nonexistent/guard.yaml'],
  ])('refuses %s', async (_, args, message) => {
    const cwd = temporaryFolder();
    checkout(cwd, quick);
    const { code, stderr } = await runCli(['gate', 'guard.yaml', ...args], cwd);
    expect(code).toBe(2);
    expect(stderr).toContain(message);
    expect(stderr).not.toMatch(/\n {4}at /);
  });

  it('refuses the baseline of another machine, and says what differs', async () => {
    const cwd = temporaryFolder();
    const demo = new URL('../../results/harbour-lane/', import.meta.url).pathname;
    const id = '20260202T090749Z-first-8-desk-e5c7';
    cpSync(join(demo, id), join(cwd, 'results', id), { recursive: true });
    cpSync(join(demo, 'desk.yaml'), join(cwd, 'desk.yaml'));
    expect((await runCli(['baseline', 'set', 'main', 'first-8'], cwd)).code).toBe(0);
    const { code, stderr } = await runCli(
      ['gate', 'desk.yaml', '--baseline', 'main', ...measuring],
      cwd,
    );
    expect(code).toBe(2);
    expect(stderr).toContain('baseline main is of another machine');
    expect(stderr).toMatch(/cpu\.model: Example Silicon E4.* there/);
  });

  it('refuses a baseline whose sitting was changed, or lost', async () => {
    const cwd = temporaryFolder();
    const demo = new URL('../../results/harbour-lane/', import.meta.url).pathname;
    const id = '20260202T090749Z-first-8-desk-e5c7';
    cpSync(join(demo, id), join(cwd, 'results', id), { recursive: true });
    cpSync(join(demo, 'desk.yaml'), join(cwd, 'desk.yaml'));
    await runCli(['baseline', 'set', 'main', 'first-8'], cwd);
    const lost = await runCli(
      ['gate', 'desk.yaml', '--baseline', 'main', '--results', 'elsewhere'],
      cwd,
    );
    expect(lost.stderr).toContain(`sitting ${id} of baseline main is not in elsewhere`);
    writeFileSync(join(cwd, 'results', id, 'data/inventory.json'), '{}');
    const changed = await runCli(['gate', 'desk.yaml', '--baseline', 'main'], cwd);
    expect(changed.code).toBe(2);
    expect(changed.stderr).toContain('data/inventory.json: damaged');
  });
});
