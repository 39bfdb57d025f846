import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { runCli, startCli } from '../setup/cli.ts';
import {
  journalLines,
  sittingFile,
  theFolder,
  untilGo,
  untilLogged,
  untilRunning,
  writeSuite,
} from '../setup/command-suite.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

describe('a sitting', () => {
  it('is measured, sealed, listed, shown and verified', async () => {
    const cwd = temporaryFolder();
    const suite = writeSuite(cwd, { one: 'echo one', two: 'echo two >&2' });
    const run = await runCli(['run', suite, '--rig', 'bench-a', '--level', 'memory=2x8 GiB'], cwd);
    expect(run).toMatchObject({ code: 0, stderr: '' });
    expect(run.stdout).toContain('run 6 of 6: two, repeat 2: wall');
    expect(run.stdout).toContain('complete and sealed, all runs good');
    const folder = theFolder(join(cwd, 'results'));
    expect(journalLines(folder).map(({ workload }) => workload)).toEqual([
      'one',
      'two',
      'one',
      'two',
      'one',
      'two',
    ]);
    for (const file of ['manifest-sha512.txt', 'tagmanifest-sha512.txt']) {
      execFileSync('sha512sum', ['--check', '--strict', '--quiet', file], { cwd: folder });
    }
    expect((await runCli(['verify', 'latest'], cwd)).code).toBe(0);
    expect((await runCli(['list'], cwd)).stdout).toMatch(/bench-a {2}harbour +6 +0 {2}sealed/);
    const shown = JSON.parse((await runCli(['show', '--json'], cwd)).stdout);
    expect(shown.sitting).toMatchObject({
      rig: 'bench-a',
      levels: { memory: '2x8 GiB' },
      state: 'complete',
    });
    expect(shown.summary.rows).toHaveLength(2);
    expect((await runCli(['show'], cwd)).stdout).toContain('rig       bench-a, memory = 2x8 GiB');
    writeFileSync(join(folder, 'data/logs/0000-one.stdout.txt'), 'two\n');
    const damaged = await runCli(['verify', folder], cwd);
    expect(damaged.code).toBe(1);
    expect(damaged.stdout).toContain('damaged: data/logs/0000-one.stdout.txt');
  });

  it('samples the sensors meanwhile, into a file and into each run, unless told not to', async () => {
    const cwd = temporaryFolder();
    const suite = writeSuite(cwd, { one: 'exit 0' });
    expect((await runCli(['run', suite], cwd)).code).toBe(0);
    const folder = theFolder(join(cwd, 'results'));
    const text = readFileSync(join(folder, 'data/telemetry.jsonl'), 'utf8');
    const [table, ...samples] = text
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(table.schema).toBe('steadyrig/sensors/1');
    // Right before and right after each of the three runs.
    expect(samples.length).toBeGreaterThanOrEqual(6);
    const shown = JSON.parse((await runCli(['show', '--json'], cwd)).stdout);
    expect(shown.sitting.telemetry.samples).toBe(samples.length);
    for (const { telemetry } of shown.runs) {
      expect(telemetry.samples).toBeGreaterThanOrEqual(2);
      for (const [name, value] of Object.entries(telemetry)) {
        if (value === null) expect(telemetry.absent[name], name).toBeTypeOf('string');
      }
    }
    expect((await runCli(['verify', 'latest'], cwd)).code).toBe(0);
    expect((await runCli(['run', suite, '--no-telemetry', '--results', 'quiet'], cwd)).code).toBe(
      0,
    );
    const quiet = theFolder(join(cwd, 'quiet'));
    expect(existsSync(join(quiet, 'data/telemetry.jsonl'))).toBe(false);
    expect(journalLines(quiet)[0]).toMatchObject({ telemetry: null });
  });

  it('goes on after a failing workload, and says so by its exit code', async () => {
    const cwd = temporaryFolder();
    const suite = writeSuite(cwd, { bad: 'echo no such part >&2; exit 7', good: 'exit 0' });
    const run = await runCli(['run', suite], cwd);
    expect(run.code).toBe(1);
    expect(run.stdout).toContain('exit code 7, expected 0; standard error ended: "no such part"');
    const lines = journalLines(theFolder(join(cwd, 'results')));
    expect(lines.map(({ outcome }) => outcome)).toEqual([
      'failed',
      'ok',
      'failed',
      'ok',
      'failed',
      'ok',
    ]);
    expect((await runCli(['verify', 'latest'], cwd)).code).toBe(0);
  });

  it('leaves no host name, home path or address in any of its files', async () => {
    const cwd = temporaryFolder();
    const suite = writeSuite(cwd, { leak: 'uname -n; echo at 192.0.2.7 in /home/someone/files' });
    expect((await runCli(['run', suite, '--notes', `on ${hostname()}`], cwd)).code).toBe(0);
    const folder = theFolder(join(cwd, 'results'));
    const files = execFileSync('find', [folder, '-type', 'f'], { encoding: 'utf8' })
      .trim()
      .split('\n');
    expect(files.length).toBeGreaterThan(8);
    const suiteText = join(folder, 'data/sitting.json');
    for (const file of files) {
      const text = readFileSync(file, 'utf8');
      const name = hostname();
      if (name.length >= 3 && name !== 'localhost') expect(text, file).not.toContain(name);
      expect(text, file).not.toContain('/home/someone');
      if (file !== suiteText) expect(text, file).not.toContain('192.0.2.7');
    }
    expect(readFileSync(join(folder, 'data/logs/0000-leak.stdout.txt'), 'utf8')).toContain(
      'at <ip> in <home>/files',
    );
  });

  it('measures with the portable meter when asked to, and records that', async () => {
    const cwd = temporaryFolder();
    const suite = writeSuite(cwd, { one: 'exit 0' });
    const run = await runCli(['run', suite, '--portable-meter', '--json'], cwd);
    expect(run.code).toBe(0);
    const { findings, folder } = JSON.parse(run.stdout);
    expect(findings).toContainEqual(expect.objectContaining({ check: 'meter', severity: 'warn' }));
    expect(journalLines(join(cwd, folder))[0]).toMatchObject({
      meter: 'portable',
      accounting: { userSeconds: null },
    });
  });
});

/** Waits for a file of the test's own, so that the test decides how long the run takes. */
describe('a sitting that is interrupted', () => {
  it('lets the run under way finish at the first signal, and can be continued', async () => {
    const cwd = temporaryFolder();
    const go = join(cwd, 'go');
    const log = join(cwd, 'log');
    const suite = writeSuite(cwd, { quick: 'exit 0', slow: untilGo(go) });
    const { child, finished } = startCli(['run', suite, '--log', log], cwd);
    await untilRunning(log, 1);
    child.kill('SIGINT');
    await untilLogged(log, 'stop-requested');
    writeFileSync(go, '');
    const { code, stdout } = await finished;
    expect(code).toBe(4);
    expect(stdout).toContain('can be continued');
    const folder = theFolder(join(cwd, 'results'));
    expect(journalLines(folder)).toMatchObject([
      { workload: 'quick' },
      { workload: 'slow', outcome: 'ok' },
    ]);
    expect(existsSync(join(folder, 'bagit.txt'))).toBe(false);
    expect(sittingFile(folder)).toMatchObject({
      state: 'interrupted',
      interruptions: [{ cause: 'SIGINT', runs: 2 }],
    });
  });

  it('ends the run under way at the second signal', async () => {
    const cwd = temporaryFolder();
    const log = join(cwd, 'log');
    const suite = writeSuite(cwd, { endless: untilGo(join(cwd, 'never')) });
    const { child, finished } = startCli(['run', suite, '--log', log], cwd);
    await untilRunning(log, 0);
    child.kill('SIGTERM');
    await untilLogged(log, 'stop-requested');
    child.kill('SIGTERM');
    expect((await finished).code).toBe(4);
    const lines = journalLines(theFolder(join(cwd, 'results')));
    expect(lines).toMatchObject([{ outcome: 'failed', failure: { code: 'stopped-by-operator' } }]);
  });

  it('by kill -9 keeps every acknowledged run, frees the machine and leaves no program behind', async () => {
    const cwd = temporaryFolder();
    const log = join(cwd, 'log');
    const mark = `never-${process.pid}`;
    const suite = writeSuite(cwd, { quick: 'exit 0', endless: untilGo(join(cwd, mark)) });
    const { child, finished } = startCli(['run', suite, '--log', log], cwd);
    await untilRunning(log, 1);
    child.kill('SIGKILL');
    await finished;
    const shown = await runCli(['show', '--json'], cwd);
    expect(JSON.parse(shown.stdout)).toMatchObject({
      sealed: false,
      sitting: { state: 'open' },
      runs: [{ workload: 'quick' }],
    });
    await vi.waitFor(
      () => {
        const processes = execFileSync('ps', ['-eo', 'args'], { encoding: 'utf8' });
        expect(processes).not.toContain(mark);
      },
      { timeout: 20_000 },
    );
    const again = writeSuite(cwd, { quick: 'exit 0' });
    expect((await runCli(['run', again, '--results', 'others'], cwd)).code).toBe(0);
  });

  it('keeps a second sitting off the machine while it is under way', async () => {
    const cwd = temporaryFolder();
    const go = join(cwd, 'go');
    const log = join(cwd, 'log');
    const suite = writeSuite(cwd, { slow: untilGo(go) });
    const first = startCli(['run', suite, '--log', log], cwd);
    await untilRunning(log, 0);
    const second = await runCli(['run', suite, '--results', 'others'], cwd);
    expect(second.code).toBe(3);
    expect(second.stderr).toContain(
      `another sitting is under way on this machine (process ${first.child.pid}`,
    );
    expect(existsSync(join(cwd, 'others'))).toBe(false);
    writeFileSync(go, '');
    expect((await first.finished).code).toBe(0);
  });
});
