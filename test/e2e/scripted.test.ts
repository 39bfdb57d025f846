import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import type { RunRecord } from '../../src/model/run.ts';
import { loggedEvents, runCli, startCli } from '../setup/cli.ts';
import { needs } from '../setup/needs.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

const xz = needs.program('xz');

function writeSuite(folder: string, repeats: number, workload: string): string {
  const path = join(folder, 'harbour.yaml');
  writeFileSync(
    path,
    `suite: harbour
title: Harbour Lane (invented)
revision: 1
repeats: ${repeats}
warm-ups: 0
cooldown: 0 s
limits: { time: 60 s, output: 1 MiB }
workloads:
  - id: parts
    title: Parts list
    kind: scripted
${workload.replaceAll(/^/gm, '    ')}
`,
  );
  return path;
}

function theFolder(cwd: string): string {
  const [only = ''] = readdirSync(join(cwd, 'results'));
  return join(cwd, 'results', only);
}

function journal(cwd: string): RunRecord[] {
  const text = readFileSync(join(theFolder(cwd), 'data/runs.jsonl'), 'utf8');
  return text
    .trimEnd()
    .split('\n')
    .map((row) => JSON.parse(row));
}

const pack = `
inputs:
  list: { path: list.csv }
page-cache: warm
set-up:
  - { id: sort, argv: [sort], stdin: '{input:list}', stdout: sorted.csv }
steps:
  - { id: pack, argv: [xz, -6, --stdout], stdin: sorted.csv, stdout: sorted.xz }
  - { id: unpack, argv: [xz, --decompress, --stdout], stdin: sorted.xz, stdout: again.csv }
check:
  - { id: same, argv: [cmp, sorted.csv, again.csv] }
tear-down:
  - { id: clean, argv: [rm, sorted.xz] }
metrics:
  pack-speed: { from: derived, work: 48890 B, per: pack-time }
  pack-time: { from: accounting, reading: wall, step: pack }
  total: { from: accounting, reading: wall }
  packed: { from: file-size, file: sorted.xz }`;

describe('a sitting with a scripted workload', () => {
  it.skipIf(xz.missing)('is measured step by step, sealed and shown', async () => {
    const cwd = temporaryFolder();
    const rows = Array.from({ length: 10_000 }, (_, i) => `${(i * 7919) % 10_000}\n`).join('');
    expect(rows).toHaveLength(48_890);
    writeFileSync(join(cwd, 'list.csv'), rows);
    const log = join(cwd, 'events');
    const suite = writeSuite(cwd, 2, pack);
    const run = await runCli(['run', suite, '--rig', 'bench-a', '--log', log], cwd);
    expect(run).toMatchObject({ code: 0, stderr: '' });
    expect(run.stdout.match(/^run \d/gm)).toHaveLength(2);
    const [first] = journal(cwd);
    expect(first).toMatchObject({ outcome: 'ok', pageCache: 'warm', leftBehind: 0 });
    const ids = ['sort', 'pack', 'unpack', 'same', 'clean'];
    expect(first?.steps?.map(({ id }) => id)).toEqual(ids);
    const told = loggedEvents(log).filter(({ type }) => type === 'step-started');
    expect(told.map(({ step }) => step)).toEqual([...ids, ...ids]);
    const [speed, packTime, total, packed] = first?.metrics.map(({ value }) => value) ?? [];
    const times = first?.steps?.map(({ accounting }) => accounting?.wallSeconds ?? 0) ?? [];
    expect(packTime).toBe(times[1]);
    expect(total).toBeCloseTo((times[1] ?? 0) + (times[2] ?? 0), 9);
    expect(speed).toBeCloseTo(48_890 / (times[1] ?? 0), 6);
    expect(packed).toBe(first?.steps?.[1]?.logs?.stdout.bytes);
    expect(existsSync(join(theFolder(cwd), 'data/logs/0000-parts.pack.stdout.txt'))).toBe(true);
    expect((await runCli(['verify', 'latest'], cwd)).code).toBe(0);
    const shown = (await runCli(['show'], cwd)).stdout;
    for (const name of ['pack-speed', 'pack-time', 'total', 'packed']) {
      expect(shown).toContain(name);
    }
    for (const row of shown.split('\n')) expect(row.length).toBeLessThanOrEqual(80);
  });

  it('goes on after a failing step, torn down, and says which step it was', async () => {
    const cwd = temporaryFolder();
    const suite = writeSuite(
      cwd,
      2,
      `
steps:
  - { id: load, argv: [sh, -c, 'echo the parts list is empty >&2; exit 5'] }
  - { id: query, argv: ['true'] }
tear-down:
  - { id: clean, argv: ['true'] }`,
    );
    const run = await runCli(['run', suite, '--rig', 'bench-a'], cwd);
    expect(run.code).toBe(1);
    expect(run.stdout.replaceAll(/\s+/g, ' ')).toContain(
      'FAILED, step-failed: step load: exit code 5, expected 0; standard error ended: "the parts list is empty"',
    );
    const runs = journal(cwd);
    expect(runs.map(({ steps }) => steps?.map(({ id }) => id))).toEqual([
      ['load', 'clean'],
      ['load', 'clean'],
    ]);
    expect((await runCli(['verify', 'latest'], cwd)).code).toBe(0);
  });

  it('finishes all steps of the run under way when it is told to end', async () => {
    const cwd = temporaryFolder();
    const go = join(cwd, 'go');
    const suite = writeSuite(
      cwd,
      3,
      `
steps:
  - { id: wait, argv: [sh, -c, 'until [ -e "$0" ]; do sleep 0.02; done', ${go}] }
  - { id: more, argv: ['true'] }
tear-down:
  - { id: clean, argv: ['true'] }`,
    );
    const log = join(cwd, 'events');
    const { child, finished } = startCli(['run', suite, '--rig', 'b', '--log', log], cwd);
    const isTold = (type: string): boolean =>
      loggedEvents(log).some((event) => event.type === type);
    await vi.waitFor(() => expect(isTold('step-started')).toBe(true), { timeout: 20_000 });
    child.kill('SIGINT');
    await vi.waitFor(() => expect(isTold('stop-requested')).toBe(true), { timeout: 20_000 });
    writeFileSync(go, '');
    expect((await finished).code).toBe(4);
    const runs = journal(cwd);
    expect(runs).toMatchObject([{ outcome: 'ok' }]);
    expect(runs[0]?.steps?.map(({ id }) => id)).toEqual(['wait', 'more', 'clean']);
  });
});
