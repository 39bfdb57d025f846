import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { expectRefused, runCli } from '../setup/cli.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

/** Invented figures of the Harbour Lane repair co-op. */
const book = `rig,sitting,workload,repeat,metric,value,unit,better,price
bench-a,Tuesday,render,1,wall,12.5,s,lower,90
bench-a,Tuesday,render,2,wall,12.75,s,lower,90
bench-b,Tuesday,render,1,wall,10,s,lower,140
`;

describe('figures in and out', () => {
  it('imports, lists, shows, verifies and exports them again', async () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'book.csv'), book);
    const imported = await runCli(['import', 'book.csv'], folder);
    expect(imported).toMatchObject({ code: 0, stderr: 'columns not used: price\n' });
    expect(imported.stdout).toMatch(/^imported 3 figures into 2 sittings:\n {2}results\//);
    expect((await runCli(['list'], folder)).stdout).toMatch(
      /bench-a +imported .* imported, sealed/,
    );
    const shown = await runCli(['show'], folder);
    expect(shown.stdout).toContain('imported  from book.csv (there Tuesday, SHA-256');
    expect(shown.stdout).not.toContain('meter');
    for (const line of shown.stdout.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
    expect(await runCli(['verify', 'latest'], folder)).toMatchObject({ code: 0 });

    const exported = await runCli(['export'], folder);
    expect(exported.stderr).toBe('exported 3 figures of 2 sittings to standard output\n');
    const rows = exported.stdout.split('\r\n').map((row) => row.split(',').slice(0, 8).join(','));
    const given = book.split('\n').map((row) => row.split(',').slice(0, 8).join(','));
    expect(rows).toEqual(given);
    const again = await runCli(['import', 'book.csv'], folder);
    expect(again).toMatchObject({ code: 2, stdout: '' });
    expect(again.stderr).toContain('is the sitting Tuesday of bench-a already');
  });

  it('writes a file by its ending, and never over another one', async () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'book.csv'), book);
    expect(await runCli(['import', 'book.csv', '--json'], folder)).toMatchObject({ code: 0 });
    expect(await runCli(['export', '--out', 'all.parquet'], folder)).toMatchObject({ code: 0 });
    const bytes = readFileSync(join(folder, 'all.parquet'));
    expect(bytes.toString('latin1', 0, 4)).toBe('PAR1');
    const lines = await runCli(['export', 'latest', '--format', 'jsonl'], folder);
    expect(
      lines.stdout
        .trimEnd()
        .split('\n')
        .map((line) => JSON.parse(line).rig),
    ).toEqual(['bench-b']);
    const over = await runCli(['export', '--out', 'book.csv'], folder);
    expect(over).toMatchObject({ code: 2, stderr: expect.stringContaining('is there already') });
    expect(readFileSync(join(folder, 'book.csv'), 'utf8')).toBe(book);
  });

  it.each([
    [['export', '--format', 'parquet'], 'name a file with --out'],
    [['export', 'nothing'], 'no sitting nothing in results'],
    [['export'], 'results: cannot be listed'],
    [['export', '--format', 'xml'], 'Allowed choices are csv, jsonl, parquet'],
    [['import'], "missing required argument 'file'"],
    [['import', 'none.csv'], 'none.csv: cannot be read: no such file'],
    [['import', 'comma.csv'], 'comma.csv:2:19: value: `12,5` has a decimal comma'],
  ])('refuses %j', async (args, message) => {
    const folder = temporaryFolder();
    const text = `rig,sitting,workload,repeat,metric,value,unit,better\na,b,render,1,wall,"12,5",s,lower`;
    writeFileSync(join(folder, 'comma.csv'), text);
    expectRefused(await runCli(args, folder), message);
  });
});
