import { execFile } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { describe, expect, it, vi } from 'vitest';
import { main, runCli, startCli } from '../setup/cli.ts';
import { needs } from '../setup/needs.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';
import { openTerminal } from '../setup/terminal.ts';
import { journalLines, sittingFolders, writeFastSuite } from './fast-suite.ts';
import { buildShim } from './shim/build-shim.ts';

const gcc = needs.program('gcc');
const day = 86_400;

/** A run waits until this file is there, so that a test can do something meanwhile. */
function writeGatedSuite(cwd: string): { readonly suite: string; open(): void } {
  const gate = join(cwd, 'gate');
  const suite = writeFastSuite(cwd, {
    repeats: 2,
    line: `while [ ! -e ${gate} ]; do sleep 0.02; done`,
  });
  return { suite, open: () => writeFileSync(gate, '') };
}

describe('what goes wrong around a sitting', () => {
  it.skipIf(gcc.missing).each([{ shift: day }, { shift: -day }])(
    'the wall clock jumps by $shift s: durations are right, and it is noted',
    async ({ shift }) => {
      const cwd = temporaryFolder();
      const clock = join(cwd, 'clock');
      writeFileSync(clock, '0');
      const { suite, open } = writeGatedSuite(cwd);
      const shim = { LD_PRELOAD: buildShim(gcc.path, cwd), FAULT_CLOCK: clock };
      const log = join(cwd, 'events.jsonl');
      const { finished } = startCli(['run', suite, '--log', log], cwd, shim);
      await vi.waitFor(() => expect(readFileSync(log, 'utf8')).toContain('"run-started"'), 20_000);
      writeFileSync(clock, String(shift));
      open();
      expect(await finished).toMatchObject({ code: 0, stderr: '' });
      const [folder = ''] = sittingFolders(join(cwd, 'results'));
      const lines = readFileSync(join(folder, 'data', 'runs.jsonl'), 'utf8')
        .trim()
        .split('\n');
      const runs = lines.map((line) => JSON.parse(line));
      for (const { accounting } of runs) expect(accounting.wallSeconds).toBeLessThan(60);
      const moments = runs.map(({ sinceStartSeconds }) => sinceStartSeconds);
      expect(moments).toEqual(moments.toSorted((one, other) => one - other));
      expect(JSON.stringify(runs[0].disturbances)).toContain('clock-set');
      expect(await runCli(['verify', folder], cwd)).toMatchObject({ code: 0 });
    },
    60_000,
  );

  it('the results folder is removed meanwhile: it is said at once, in a sentence', async () => {
    const cwd = temporaryFolder();
    const { suite, open } = writeGatedSuite(cwd);
    const log = join(cwd, 'events.jsonl');
    const { finished } = startCli(['run', suite, '--log', log], cwd);
    await vi.waitFor(() => expect(readFileSync(log, 'utf8')).toContain('"run-started"'), 20_000);
    rmSync(join(cwd, 'results'), { recursive: true });
    open();
    const end = await finished;
    expect(end.code).toBe(4);
    expect(end.stderr).toMatch(/no such file or directory/);
    expect(end.stderr).not.toMatch(/^\s+at /m);
  }, 60_000);

  const tmux = needs.program('tmux');
  it.skipIf(tmux.missing)(
    'the terminal is closed: the run under way is recorded, and the rest is measured later',
    async () => {
      const cwd = temporaryFolder();
      const { suite, open } = writeGatedSuite(cwd);
      const log = join(cwd, 'events.jsonl');
      const terminal = openTerminal(
        tmux.path,
        `run '${suite}' --acknowledge --log events.jsonl`,
        cwd,
      );
      await vi.waitFor(() => expect(readFileSync(log, 'utf8')).toContain('"run-started"'), 20_000);
      terminal.hangUp();
      await vi.waitFor(
        () => expect(readFileSync(log, 'utf8')).toContain('"stop-requested"'),
        20_000,
      );
      open();
      const [folder = ''] = sittingFolders(join(cwd, 'results'));
      const sitting = join(folder, 'data', 'sitting.json');
      await vi.waitFor(() => expect(readFileSync(sitting, 'utf8')).toContain('"SIGHUP"'), 20_000);
      expect(journalLines(folder)).toMatchObject([{ plan: 0, outcome: 'ok' }]);
      expect(await runCli(['continue', folder], cwd)).toMatchObject({ code: 0, stderr: '' });
      expect(journalLines(folder).map(({ plan }) => plan)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8]);
      expect(await runCli(['verify', folder], cwd)).toMatchObject({ code: 0 });
    },
    90_000,
  );

  it('nobody reads what it prints: the pipe is full, and the sitting goes on', async () => {
    const cwd = temporaryFolder();
    const suite = writeFastSuite(cwd, { repeats: 2 });
    const { child, finished } = startCli(['run', suite], cwd);
    child.stdout?.pause();
    const results = join(cwd, 'results');
    await vi.waitFor(
      () => {
        const [folder = ''] = sittingFolders(results);
        expect(readFileSync(join(folder, 'bagit.txt'), 'utf8')).toContain('BagIt');
      },
      { timeout: 30_000 },
    );
    child.stdout?.resume();
    expect(await finished).toMatchObject({ code: 0 });
  }, 60_000);

  it('a workload leaves hundreds of processes behind: all are ended, and counted', async () => {
    const cwd = temporaryFolder();
    const mark = `4${process.pid}`;
    const line = `i=0; while [ $i -lt 200 ]; do setsid sleep ${mark} & i=$((i+1)); done`;
    const suite = writeFastSuite(cwd, { repeats: 1, line: `${line}; echo started` });
    expect(await runCli(['run', suite], cwd)).toMatchObject({ code: 0 });
    const [folder = ''] = sittingFolders(join(cwd, 'results'));
    const first = JSON.parse(
      readFileSync(join(folder, 'data', 'runs.jsonl'), 'utf8').split('\n')[0] ?? '',
    );
    expect(first.leftBehind).toBe(200);
    const left = await promisify(execFile)('/bin/sh', [
      '-c',
      `grep -l "[s]leep.${mark}" /proc/[0-9]*/cmdline 2>/dev/null | wc -l`,
    ]);
    expect(left.stdout.trim()).toBe('0');
  }, 120_000);

  const isRoot = process.getuid?.() === 0;
  const unshare = needs.program('unshare');
  it.skipIf(unshare.missing || !isRoot)(
    'the disk is full: what was acknowledged stays, and with room the sitting is finished',
    async () => {
      const cwd = temporaryFolder();
      const small = join(cwd, 'small');
      mkdirSync(small);
      // The third run fills the disk, as a workload may; the last byte is gone when its record is to be written.
      const fill = `[ -e ${cwd}/filled ] || [ $(cat ${small}/2*/data/runs.jsonl | wc -l) -lt 2 ] || { touch ${cwd}/filled; dd if=/dev/zero of=${small}/fill bs=1k; }`;
      const suite = writeFastSuite(cwd, { repeats: 2, line: `${fill}; true` });
      // The small disk lives in a mount namespace of the script; what is on it is copied out before it goes.
      const agent = `"${process.execPath}" "${main}"`;
      const script = [
        'mount -t tmpfs -o size=400m tmpfs small',
        `${agent} run "${suite}" --acknowledge --results small > first.txt 2> error.txt; echo $? > code`,
        'rm small/fill',
        `${agent} continue small/2* > second.txt 2>&1; echo $? >> code`,
        'cp -r small results',
      ].join('\n');
      await promisify(execFile)(unshare.path, ['--mount', '/bin/sh', '-c', script], { cwd });
      expect(readFileSync(join(cwd, 'code'), 'utf8')).toBe('4\n0\n');
      expect(readFileSync(join(cwd, 'error.txt'), 'utf8')).toContain('ENOSPC');
      const [folder = ''] = sittingFolders(join(cwd, 'results'));
      expect(await runCli(['verify', folder], cwd)).toMatchObject({ code: 0 });
      expect(new Set(journalLines(folder).map(({ plan }) => plan)).size).toBe(9);
    },
    120_000,
  );
});
