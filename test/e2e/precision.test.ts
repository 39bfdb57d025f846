import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { expectRefused, runCli } from '../setup/cli.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

/** Invented figures of the Harbour Lane repair co-op: four days of one bench. */
const days = [
  [12.5, 12.6, 12.55],
  [12.7, 12.65, 12.8],
  [12.4, 12.5, 12.45],
  [12.6, 12.55, 15.5],
];
const book = [
  'rig,sitting,workload,repeat,metric,value,unit,better',
  ...days.flatMap((values, day) =>
    values.map((value, at) => `bench-a,day-${day + 1},render,${at + 1},wall,${value},s,lower`),
  ),
  '',
].join('\n');

async function importedFolder(): Promise<{ folder: string; ids: readonly string[] }> {
  const folder = temporaryFolder();
  writeFileSync(join(folder, 'book.csv'), book);
  expect(await runCli(['import', 'book.csv'], folder)).toMatchObject({ code: 0 });
  return { folder, ids: readdirSync(join(folder, 'results')).sort() };
}

const suite = `suite: harbour
title: Invented
revision: 1
repeats: 3
workloads: [{ id: render, kind: command, argv: [/bin/true] }]
`;

describe('precision and exclusions', () => {
  it('exclude a run, and make a study without it that verify checks', async () => {
    const { folder, ids } = await importedFolder();
    const last = ids.at(-1) ?? '';
    const withIt = await runCli(['precision', 'bench-a', '--dry-run', '--json'], folder);
    const excluded = await runCli(
      ['exclude', last, 'render', '3', '--reason', 'an update began'],
      folder,
    );
    expect(excluded).toMatchObject({ code: 0, stdout: expect.stringMatching(/^excluded: render/) });
    const shown = await runCli(['show', last], folder);
    expect(shown.stdout).toMatch(/EXCLUDED render, repeat 3: an update began/);
    expect(shown.stdout).toMatch(/with them/);

    const made = await runCli(['precision', 'bench-a'], folder);
    expect(made).toMatchObject({ code: 0, stderr: '' });
    expect(made.stdout).toMatch(/wall ↓ +11 in 4/);
    for (const line of made.stdout.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
    const [name] = readdirSync(join(folder, 'results', 'precision'));
    const path = join('results', 'precision', name ?? '');
    expect(made.stdout.trimEnd()).toMatch(new RegExp(`stored: ${path}$`));
    const study = JSON.parse(readFileSync(join(folder, path), 'utf8'));
    expect(study.rows[0].sr).toBeLessThan(JSON.parse(withIt.stdout).study.rows[0].sr / 3);

    const all = ids.map((id) => join('results', id));
    const besides = ['results/exclusions.jsonl', 'results/precision'];
    expect(await runCli(['verify', ...all, ...besides], folder)).toMatchObject({ code: 0 });
    expect((await runCli(['list'], folder)).stdout.trimEnd().split('\n')).toHaveLength(2 + 4);
    writeFileSync(join(folder, path), JSON.stringify({ ...study, rig: 'bench-b' }));
    const damaged = await runCli(['verify', ...all], folder);
    expect(damaged).toMatchObject({ code: 1, stdout: expect.stringContaining('damaged: bench-a') });
  });

  it.each([
    [['precision', 'bench-b'], 'no rig and no sitting bench-b in results'],
    [['precision', 'bench-a', '--last', '2'], 'needs 3 or more sittings'],
    [['precision', 'bench-a', '--last', 'x'], 'a whole number'],
    [['precision'], "missing required argument 'rig'"],
    [['exclude', 'latest', 'render', '9', '--reason', 'x'], 'render has no repeat 9'],
    [['exclude', 'latest', 'render', '1'], "required option '--reason <text>'"],
    [['plan', 'harbour.yaml', '--detect', '3'], 'has no unit; write `3 %`'],
    [['plan', 'harbour.yaml', '--detect', '3%', '--sitting-cost', '-1 s'], 'is negative'],
    [['plan', 'harbour.yaml', '--detect', '3%', '--rig', 'bench-a'], 'no precision study'],
  ])('refuse %j', async (args, message) => {
    const { folder } = await importedFolder();
    writeFileSync(join(folder, 'harbour.yaml'), suite);
    expectRefused(await runCli(args, folder), message);
  });
});
