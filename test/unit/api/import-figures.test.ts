import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir, userInfo } from 'node:os';
import { join } from 'node:path';
import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exportFigures } from '../../../src/api/export-figures.ts';
import { importFigures } from '../../../src/api/import-figures.ts';
import { formatProblem } from '../../../src/model/problem.ts';
import { listSittings } from '../../../src/results/list-sittings.ts';
import { readSitting } from '../../../src/results/read-sitting.ts';
import { verifySeal } from '../../../src/results/verify.ts';
import { summarizeSitting } from '../../../src/stats/summarize-sitting.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

const heading = 'rig,sitting,workload,repeat,metric,value,unit,better';
const at = new Date('2026-03-01T08:30:00.250Z');

/** Rows of an invented workshop book, with a heading. */
const book = `${heading}
bench-a,Tuesday,render,1,wall,12.5,s,lower
bench-a,Tuesday,render,2,wall,12500,ms,lower
bench-a,Tuesday,render,1,score,812,points,higher
bench-b,Tuesday,pack,1,speed,52.5,MB/s,higher
`;

function fileOf(content: string | Uint8Array, folder = temporaryFolder()): string {
  const path = join(folder, 'figures.csv');
  writeFileSync(path, content);
  return path;
}

async function importText(content: string | Uint8Array, results = temporaryFolder()) {
  return importFigures(fileOf(content), { results, now: () => at });
}

/** Problems as a person reads them, without the file's name. */
async function problemsOf(content: string | Uint8Array): Promise<readonly string[]> {
  const results = join(temporaryFolder(), 'results');
  const imported = await importText(content, results);
  expect(existsSync(results)).toBe(false);
  if (imported.ok) return [];
  return imported.error.map((problem) => formatProblem({ ...problem, file: null }));
}

describe('importFigures', () => {
  it('makes a sealed folder for each rig and sitting, with values in base units', async () => {
    const { sittings, figures, ignored } = unwrap(await importText(book));
    expect({ figures, ignored }).toEqual({ figures: 4, ignored: [] });
    expect(sittings.map(({ sitting }) => sitting.rig)).toEqual(['bench-a', 'bench-b']);
    const [first, second] = await Promise.all(
      sittings.map(async ({ folder }) => unwrap(await readSitting(folder))),
    );
    expect(await verifySeal(sittings[0]?.folder ?? '')).toMatchObject({
      sealed: true,
      findings: [],
    });
    expect(first?.sitting).toMatchObject({
      state: 'complete',
      meter: null,
      cpus: null,
      startedAt: at.toISOString(),
      imported: {
        file: 'figures.csv',
        sha256: createHash('sha256').update(book).digest('hex'),
        sitting: 'Tuesday',
      },
      leftOut: [{ workload: 'pack', reason: 'the imported file has no figures of it' }],
    });
    expect(first?.runs).toMatchObject([
      {
        ...{ plan: 0, round: 1, workload: 'render', phase: 'repeat', outcome: 'ok', meter: null },
        entry: { by: 'import', confirmed: false },
        metrics: [
          { id: 'wall', value: 12.5, unit: 's', better: 'lower' },
          { id: 'score', value: 812, unit: '{points}', better: 'higher' },
        ],
      },
      { plan: 1, round: 2, metrics: [{ id: 'wall', value: 12.5 }] },
    ]);
    expect(second?.runs[0]?.metrics).toEqual([
      { id: 'speed', value: 52_500_000, unit: 'By/s', better: 'higher' },
    ]);
    const { rows } = summarizeSitting(first!.sitting.suite.resolved, first!.runs);
    expect(rows.map(({ metric, mean }) => [metric, mean])).toEqual([
      ['wall', 12.5],
      ['score', 812],
    ]);
  });

  it('takes columns in any order, and names those that it takes nothing from', async () => {
    const text = `\ufeffbetter,price,value,unit,metric,repeat,workload,sitting,rig,notes\r
lower,9,1.5,s,wall,1,pack,a,bench-a,"two
lines"\r\n`;
    const { figures, ignored } = unwrap(await importText(text));
    expect({ figures, ignored }).toEqual({ figures: 1, ignored: ['price', 'notes'] });
  });

  it('gives files of the same make the same digest, and others another one', async () => {
    const digestOf = async (text: string): Promise<string | undefined> =>
      unwrap(await importText(text)).sittings[0]?.sitting.suite.resolved.digest;
    const [first, ...rows] = book.trim().split('\n');
    const turned = [first, ...rows.reverse()].join('\n');
    const more = `${book}bench-a,Friday,render,7,wall,13,s,lower\n`;
    const digest = await digestOf(book);
    expect(await digestOf(turned)).toBe(digest);
    expect(await digestOf(more)).toBe(digest);
    expect(await digestOf(book.replaceAll('score,812,points', 'score,812,marks'))).not.toBe(digest);
    expect(await digestOf(book.replaceAll('score,', 'rating,'))).not.toBe(digest);
    expect(await digestOf(book.replace('points,higher', 'points,lower'))).not.toBe(digest);
  });

  it('gives sittings with unknown names an id from the time of the import, each its own', async () => {
    const rows = Array.from(
      { length: 40 },
      (_, index) => `bench-a,s${index},pack,1,wall,1,s,lower\n`,
    );
    const { sittings } = unwrap(await importText(`${heading}\n${rows.join('')}`));
    const ids = sittings.map(({ sitting }) => sitting.id);
    expect(new Set(ids).size).toBe(40);
    for (const id of ids) expect(id).toMatch(/^20260301T083000Z-bench-a-imported-[0-9a-f]{4}$/);
  });

  it('lets a measured sitting keep its id, suite and time', async () => {
    const id = '20260131T201500Z-bench-a-first-light-9f3c';
    const { sittings } = unwrap(
      await importText(`${heading}\nbench-a,${id},pack,1,wall,1,s,lower`),
    );
    expect(sittings[0]?.sitting).toMatchObject({
      id,
      startedAt: '2026-01-31T20:15:00.000Z',
      suite: { resolved: { id: 'first-light' } },
    });
  });

  it('records the name of the file, not where it lay', async () => {
    const { sittings } = unwrap(await importText(book));
    const text = readFileSync(join(sittings[0]?.folder ?? '', 'data', 'sitting.json'), 'utf8');
    expect(text).toContain('"figures.csv"');
    expect(text).not.toContain(tmpdir());
  });

  it('refuses what is there already, so that no figure counts twice', async () => {
    const results = temporaryFolder();
    unwrap(await importText(book, results));
    const again = await importText(book, results);
    expect(again).toMatchObject({
      error: [{ code: 'folder-invalid' }, { code: 'folder-invalid' }],
    });
    expect(readdirSync(results)).toHaveLength(2);
    const other = unwrap(await importText(book.replaceAll('Tuesday', 'Friday'), results));
    expect(other.sittings).toHaveLength(2);
  });

  it('keeps an upper bound an upper bound', async () => {
    const text = `${heading},bound\nbench-a,a,pack,1,memory,1,MiB,lower,below\n`;
    const { sittings } = unwrap(await importText(text));
    const { runs } = unwrap(await readSitting(sittings[0]?.folder ?? ''));
    expect(runs[0]?.metrics[0]).toMatchObject({ value: 2 ** 20, unit: 'By', bound: 'below' });
  });

  it('tells all problems of a file at once, each with its place', async () => {
    const found = await problemsOf(`${heading}
Bench A,=1+1,Über Rendern,0,wall,"12,5",sec,faster
bench-a,a,pack,1,wall,1,s,lower
bench-a,a,pack,1,wall,2,s,lower
bench-a,a,pack,2,wall,2,W,higher
bench-a,a,pack,3
`);
    expect(found.map((line) => line.split(/[;,]/)[0])).toEqual([
      '2:1: rig: rig label "Bench A" must be 1 to 40 lower-case letters',
      '2:9: sitting: `=1+1` begins like a formula',
      '2:14: workload: `Über Rendern` is no name here',
      '2:27: repeat: `0`',
      '2:34: value: `12',
      '2:41: unit: `sec` is no known unit',
      '2:45: better: `faster`',
      '4:18: pack',
      '5:25: unit: wall of pack is in `W` here and in `s` in line 3',
      '5:27: better: wall of pack is `higher` here and `lower` in line 3',
      '6:1: the row has 4 values',
    ]);
    expect(found[2]).toContain('such as `uber-rendern`');
    expect(found[4]).toContain('`12,5` has a decimal comma; expected a decimal point, 12.5');
    expect(found[7]).toContain('is there already in line 3');
  });

  it.each([
    ['', '1:1: is empty'],
    [`${heading}\n`, '2:1: no row with a figure'],
    [
      'rig,sitting,workload,repeat,metric,Value,unit\n',
      'no column `value`, `better`; did you mean `value` by `Value`?',
    ],
    [`${heading},rig\n`, '1:54: `rig` is there twice'],
    [heading.replaceAll(',', ';'), 'separated by semicolons; expected commas'],
    [
      `${heading}\nbench-a,a,pack,1,wall,12,5,s,lower`,
      '2:1: the row has 9 values, and the heading 8 columns: a decimal comma',
    ],
    [`${heading}\nbench-a,"a,pack,1,wall,1,s,lower`, 'quotation mark'],
  ])('refuses the file %j', async (content, message) => {
    expect((await problemsOf(content)).join('\n')).toContain(message);
  });

  it.each([
    ['1 000.5', 'nothing between thousands'],
    ['1.000,5', 'nothing between thousands'],
    ["1'000.5", 'nothing between thousands'],
    ['12\u066b5', 'is no plain number'],
    ['NaN', 'is no plain number'],
    ['Infinity', 'is no plain number'],
    ['0x10', 'is no plain number'],
    ['12 s', 'is no plain number'],
    ['', 'is empty; expected a number'],
    ['1e309', 'is larger than a number here can be'],
    ['1e-400', 'closer to zero'],
    ['5e-324', 'out of range in the base unit', 'ms'],
    ['1e308', 'out of range in the base unit', 'GB'],
  ])('refuses the value %j', async (value, message, unit = 's') => {
    const text = stringify([
      heading.split(','),
      ['bench-a', 'a', 'pack', 1, 'wall', value, unit, 'lower'],
    ]);
    expect((await problemsOf(text)).join('\n')).toContain(message);
  });

  it.each(['', 'points per run', '{points', '{a}{b}', 'x'.repeat(50), 'Ms'])(
    'refuses the unit %j',
    async (unit) => {
      const text = stringify([
        heading.split(','),
        ['bench-a', 'a', 'pack', 1, 'wall', 1, unit, 'lower'],
      ]);
      expect((await problemsOf(text)).join('\n')).toMatch(/^2:25: unit: /);
    },
  );

  it.each([
    '',
    ' a',
    'a\u0000',
    'a\u202eb',
    '@here',
    '-1',
    'x'.repeat(101),
    '/home/somebody/tests',
  ])('refuses a sitting called %j', async (name) => {
    const text = `${heading}\nbench-a,"${name}",pack,1,wall,1,s,lower\n`;
    expect((await problemsOf(text)).join('\n')).toMatch(/2:9: sitting: |NUL|plain text/);
  });

  it('refuses a sitting named after the user', async () => {
    const { username } = userInfo();
    const name = username === 'root' ? '/home/root' : username;
    const found = await problemsOf(`${heading}\nbench-a,${name} 3,pack,1,wall,1,s,lower\n`);
    expect(found.join('\n')).toContain('user or host name');
  });

  it('shows the first problems of many and counts the others', async () => {
    const rows = Array.from(
      { length: 200 },
      (_, index) => `bench-a,a,pack,${index + 1},wall,x,s,lower\n`,
    );
    const found = await problemsOf(`${heading}\n${rows.join('')}`);
    expect(found).toHaveLength(51);
    expect(found.at(-1)).toBe('150 more problems like these');
  });

  it('refuses other encodings and what is no file', async () => {
    expect(await problemsOf(Buffer.from(book, 'utf16le'))).toMatchObject([/./]);
    expect((await problemsOf(Buffer.from('rig,\xfc', 'latin1'))).join('')).toContain('not UTF-8');
    const missing = await importFigures(join(temporaryFolder(), 'none.csv'));
    expect(missing).toMatchObject({ error: [{ code: 'file-unreadable' }] });
  });
});

describe('export, import and export again', () => {
  const id = fc.stringMatching(/^[a-z][a-z0-9]{0,9}(-[a-z0-9]{1,5}){0,2}$/);
  const label = fc.stringMatching(/^[a-z0-9]([a-z0-9-]{0,10}[a-z0-9])?$/);
  const name = fc
    .string({ unit: 'grapheme', minLength: 1, maxLength: 20 })
    .filter((text) => text.trim() === text && !/\p{C}|\p{Zl}|\p{Zp}|^[=+\-@]/u.test(text));
  const value = fc
    .double({ noNaN: true, noDefaultInfinity: true })
    .map((number) => (number === 0 ? 0 : number));
  const unit = fc.constantFrom(
    's',
    'By',
    'By/s',
    'Hz',
    'J',
    'W',
    'Cel',
    '1',
    '{points}',
    '{frames}/s',
  );

  const figures = fc
    .record({
      rigs: fc.uniqueArray(label, { minLength: 1, maxLength: 2 }),
      names: fc.uniqueArray(name, { minLength: 1, maxLength: 3 }),
      metrics: fc.uniqueArray(fc.tuple(id, id, unit, fc.constantFrom('higher', 'lower')), {
        minLength: 1,
        maxLength: 4,
        selector: ([workload, metric]) => `${workload} ${metric}`,
      }),
    })
    .chain(({ rigs, names, metrics }) => {
      const cells = rigs.flatMap((rig) =>
        names.flatMap((sitting) =>
          metrics.flatMap((metric) =>
            [1, 2, 30].map((repeat) => ({ rig, sitting, metric, repeat })),
          ),
        ),
      );
      return fc.record({
        chosen: fc.shuffledSubarray(cells, { minLength: 1 }),
        values: fc.array(value, { minLength: cells.length, maxLength: cells.length }),
      });
    })
    .map(({ chosen, values }) =>
      chosen.map(({ rig, sitting, metric: [workload, metric, code, better], repeat }, index) => [
        ...[rig, sitting, workload, repeat, metric, String(values[index]), code, better],
      ]),
    );

  async function exportFolder(results: string): Promise<string> {
    const { sittings } = unwrap(await listSittings(results));
    return String(unwrap(exportFigures(sittings, 'csv')).content);
  }

  const eightColumns = (csv: string): string => csv.replaceAll(/(?:,[^,\r\n]*){9}\r\n/g, '\r\n');

  it('gives the same bytes in the eight columns, and the values that were given', async () => {
    await fc.assert(
      fc.asyncProperty(figures, async (rows) => {
        const folder = temporaryFolder();
        const [one, two] = [join(folder, 'one'), join(folder, 'two')];
        const given = stringify([heading.split(','), ...rows]);
        unwrap(await importFigures(fileOf(given, folder), { results: one, now: () => at }));
        const first = await exportFolder(one);
        const sortedRows = stringify(rows).trim().split('\n').sort();
        expect(eightColumns(first).trim().split('\r\n').slice(1).sort()).toEqual(sortedRows);
        unwrap(await importFigures(fileOf(first, folder), { results: two }));
        expect(eightColumns(await exportFolder(two))).toBe(eightColumns(first));
      }),
      { numRuns: 25 },
    );
  });
});
