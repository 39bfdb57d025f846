import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { asyncBufferFromFile, parquetReadObjects } from 'hyparquet';
import { describe, expect, it } from 'vitest';
import { exportFigures, type FigureFormat } from '../../../src/api/export-figures.ts';
import { correctionSchema } from '../../../src/model/run.ts';
import type { StoredSitting } from '../../../src/results/read-sitting.ts';
import { sampleExclusion, sampleRun, sampleSitting } from '../../setup/samples.ts';
import { sampleStored } from '../../setup/stored-sitting.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

const heading =
  'rig,sitting,workload,repeat,metric,value,unit,better,suite,profile,digest,levels,started_at,entry,bound,attempt,excluded';

function contentOf(sittings: readonly StoredSitting[], format: FigureFormat): string {
  return String(unwrap(exportFigures(sittings, format)).content);
}

function linesOf(sittings: readonly StoredSitting[]): readonly string[] {
  return contentOf(sittings, 'csv').split('\r\n').slice(1, -1);
}

/** Values that show whether every bit comes through. */
const extremes = [
  ...[0, 5e-324, 2.2250738585072014e-308, Number.MAX_VALUE, Number.MIN_VALUE, 2 ** 53, 1e21],
  ...[0.1, 1 / 3, -273.15, 1e-7, 123_456_789.123_456_78, Number.EPSILON],
];

const extremeSitting = sampleStored({
  runs: extremes.map((value, index) =>
    sampleRun({
      plan: index,
      round: index + 1,
      metrics: [{ id: 'wall', value, unit: '{points}', better: 'higher' }],
    }),
  ),
});

describe('exportFigures', () => {
  it('writes a row for each metric of each good repeat, with base units', () => {
    const [row] = linesOf([sampleStored()]);
    expect(contentOf([sampleStored()], 'csv').split('\r\n')[0]).toBe(heading);
    expect(row).toBe(
      `bench-a,20260131T201500Z-bench-a-harbour-9f3c,pack,1,wall,2.5,s,lower,harbour,,${'a'.repeat(64)},memory=2x8 GiB,2026-01-31T20:15:00.000Z,,,1,`,
    );
  });

  it('leaves out warm-ups and failed repeats, and counts the latter', () => {
    const failed = sampleRun({
      plan: 2,
      round: 2,
      outcome: 'failed',
      failure: { code: 'time-limit', message: 'too long' },
      metrics: [],
    });
    const runs = [sampleRun({ plan: 0, phase: 'warm-up' }), sampleRun({ plan: 1 }), failed];
    const exported = unwrap(exportFigures([sampleStored({ runs })], 'csv'));
    expect(exported).toMatchObject({ figures: 1, sittings: 1, failedRuns: 1, incomplete: [] });
  });

  it('gives the attempt that counts, and counts the good ones that do not', () => {
    const load = { code: 'load', message: 'other programs took 31 % of the processor' } as const;
    const wall = { id: 'wall', value: 2, unit: 's', better: 'lower' } as const;
    const runs = [
      sampleRun({ disturbances: [load] }),
      sampleRun({ attempt: 2, metrics: [wall] }),
      sampleRun({
        plan: 1,
        outcome: 'failed',
        failure: { code: 'lost', message: '' },
        metrics: [],
      }),
      sampleRun({ plan: 1, attempt: 2 }),
    ];
    const exported = unwrap(exportFigures([sampleStored({ runs })], 'jsonl'));
    expect(exported).toMatchObject({ figures: 2, failedRuns: 0, supersededRuns: 1 });
    const rows = String(exported.content).trim().split('\n');
    expect(rows.map((row) => JSON.parse(row))).toMatchObject([
      { value: 2, attempt: 2 },
      { value: 2.5, attempt: 2 },
    ]);
  });

  it('keeps the figures of excluded runs, marks them, and counts them', () => {
    const runs = [sampleRun({ plan: 0 }), sampleRun({ plan: 1, round: 2 })];
    const lines = [sampleExclusion({ plan: 1 }), sampleExclusion({ plan: 0, sitting: 'another' })];
    const exported = unwrap(exportFigures([sampleStored({ runs })], 'jsonl', lines));
    expect(exported).toMatchObject({ figures: 2, excludedFigures: 1 });
    const rows = String(exported.content).trim().split('\n');
    expect(rows.map((row) => JSON.parse(row))).toMatchObject([
      { repeat: 1, excluded: null },
      { repeat: 2, excluded: 'yes' },
    ]);
  });

  it('takes the corrected figure, and says where a value is only an upper bound', () => {
    const metrics = [
      { id: 'score', value: 7, unit: '{points}', better: 'higher' },
      { id: 'memory', value: 1024, unit: 'By', better: 'lower', bound: 'below' },
    ] as const;
    const run = sampleRun({ metrics, entry: { by: 'operator', confirmed: false } });
    const correction = {
      schema: correctionSchema,
      ...{ plan: 0, metric: 'score', from: 7, to: 71 },
      ...{ reason: 'misread', at: '2026-01-31T20:20:00.000Z' },
    } as const;
    const lines = linesOf([sampleStored({ runs: [run], corrections: [correction] })]);
    expect(lines[0]).toMatch(/,score,71,\{points\},higher,.*,operator,,1,$/);
    expect(lines[1]).toMatch(/,memory,1024,By,lower,.*,operator,below,1,$/);
  });

  it('sorts by rig and sitting, whatever the folders are called', () => {
    const named = (rig: string, sitting: string, folder: string): StoredSitting =>
      sampleStored({
        folder,
        sitting: sampleSitting({ rig, imported: { file: 'x', sha256: '', sitting } }),
      });
    const lines = linesOf([
      named('bench-b', 'one', '1'),
      named('bench-a', 'two', '2'),
      named('bench-a', 'one', '3'),
    ]);
    expect(lines.map((line) => line.split(',').slice(0, 2).join(' '))).toEqual([
      'bench-a one',
      'bench-a two',
      'bench-b one',
    ]);
  });

  it('refuses two sittings that could not be told apart, and names what is not complete', () => {
    const twice = exportFigures([sampleStored(), sampleStored({ folder: 'copy' })], 'csv');
    expect(twice).toMatchObject({ error: { code: 'folder-invalid', file: 'copy' } });
    const open = sampleStored({ sitting: sampleSitting({ state: 'waiting' }) });
    expect(unwrap(exportFigures([open], 'csv')).incomplete).toEqual([
      '20260131T201500Z-bench-a-harbour-9f3c (waiting)',
    ]);
  });

  it('quotes what RFC 4180 wants quoted', () => {
    const sitting = sampleSitting({ imported: { file: 'x', sha256: '', sitting: 'a "b", c' } });
    expect(linesOf([sampleStored({ sitting })])[0]).toMatch(/^bench-a,"a ""b"", c",pack,/);
  });

  it('writes values in CSV and JSON Lines that read back as the same numbers', () => {
    const fields = linesOf([extremeSitting]).map((line) => Number(line.split(',')[5]));
    expect(fields).toEqual(extremes);
    const objects = contentOf([extremeSitting], 'jsonl')
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(objects.map(({ value }) => value)).toEqual(extremes);
    expect(Object.keys(objects[0]).join(',')).toBe(heading);
    expect(objects[0]).toMatchObject({ repeat: 1, profile: null, levels: 'memory=2x8 GiB' });
  });

  it('is read alike by a database, from CSV and from Parquet', async () => {
    const folder = temporaryFolder();
    const path = (format: FigureFormat): string => join(folder, `figures.${format}`);
    for (const format of ['csv', 'parquet'] as const) {
      writeFileSync(path(format), unwrap(exportFigures([extremeSitting], format)).content);
    }
    const database = await DuckDBInstance.create();
    const connection = await database.connect();
    const columns = 'rig, sitting, workload, repeat, metric, value, unit, better, digest, levels';
    const read = async (from: string) => {
      const reader = await connection.runAndReadAll(
        `select ${columns} from ${from} order by repeat`,
      );
      return reader.getRowObjectsJson();
    };
    const fromCsv = await read(`read_csv('${path('csv')}', types = {'value': 'DOUBLE'})`);
    const fromParquet = await read(`'${path('parquet')}'`);
    const values = await connection.runAndReadAll(
      `select value, started_at from '${path('parquet')}' order by repeat`,
    );
    connection.closeSync();
    database.closeSync();
    expect(values.getColumns()[0]).toEqual(extremes);
    expect(fromParquet.map(({ repeat }) => Number(repeat))).toEqual(extremes.map((_, i) => i + 1));
    expect(fromParquet.map((row) => ({ ...row, repeat: Number(row['repeat']) }))).toEqual(
      fromCsv.map((row) => ({ ...row, repeat: Number(row['repeat']) })),
    );
  });

  it('writes Parquet that another reader reads to the last bit, timestamps included', async () => {
    const path = join(temporaryFolder(), 'figures.parquet');
    writeFileSync(path, unwrap(exportFigures([extremeSitting], 'parquet')).content);
    const rows = await parquetReadObjects({ file: await asyncBufferFromFile(path) });
    expect(rows.map(({ value }) => value)).toEqual(extremes);
    expect(Object.keys(rows[0] ?? {}).join(',')).toBe(heading);
    expect(rows[0]).toMatchObject({
      rig: 'bench-a',
      repeat: 1,
      started_at: new Date('2026-01-31T20:15:00.000Z'),
    });
    // The reader gives undefined or null for what is not there.
    expect(rows[0]?.['bound'] ?? null).toBeNull();
  });

  it('gives a heading alone where there is no figure', async () => {
    const none = sampleStored({ runs: [] });
    expect(contentOf([none], 'csv')).toBe(`${heading}\r\n`);
    expect(contentOf([none], 'jsonl')).toBe('');
    const path = join(temporaryFolder(), 'none.parquet');
    writeFileSync(path, unwrap(exportFigures([none], 'parquet')).content);
    expect(await parquetReadObjects({ file: await asyncBufferFromFile(path) })).toEqual([]);
  });
});
