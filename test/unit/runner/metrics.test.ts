import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Accounting } from '../../../src/model/meter.ts';
import type { Metric } from '../../../src/model/suite.ts';
import { readJsonDocument, readJsonLine } from '../../../src/runner/metrics/read-json.ts';
import { readMetrics } from '../../../src/runner/metrics/read-metrics.ts';
import { parseFigure, readPattern } from '../../../src/runner/metrics/read-pattern.ts';
import type { RunFiles } from '../../../src/runner/output.ts';
import { sampleRun } from '../../setup/samples.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

const accounting = sampleRun().accounting as Accounting;

function makeFiles(stdout = '', stderr = ''): RunFiles {
  const folder = temporaryFolder();
  const files = {
    stdout: join(folder, 'out'),
    stderr: join(folder, 'err'),
    scratch: join(folder, 'scratch'),
  };
  mkdirSync(files.scratch);
  writeFileSync(files.stdout, stdout);
  writeFileSync(files.stderr, stderr);
  return files;
}

const pattern = (source: string, factor = 1): Metric => ({
  id: 'score',
  source: { kind: 'pattern', pattern: source, in: { kind: 'stdout', step: null }, factor },
  unit: '{points}',
  better: 'higher',
});

describe('a pattern', () => {
  it('finds the last match and its first group', () => {
    expect(readPattern('score: ([0-9.]+)', 'score: 1.5\nscore: 2.25\n')).toEqual({
      ok: true,
      value: 2.25,
    });
  });

  it('matches ^ and $ at lines', () => {
    expect(readPattern('^total (\\d+)$', 'subtotal 3\ntotal 9\nmore')).toEqual({
      ok: true,
      value: 9,
    });
  });

  // (a+)+$ takes exponential time in a backtracking engine: 100,000 letters would outlast the universe.
  it('cannot be made to run away', () => {
    const found = readPattern('(a+)+$', `${'a'.repeat(100_000)}!`);
    expect(found).toMatchObject({ ok: false });
  });

  it('refuses a decimal comma and anything else that is not a plain number', () => {
    for (const text of ['1,5', '1.234,5', '0x10', '', '1e', '--1', 'NaN', '1 2']) {
      expect(parseFigure(text), text).toMatchObject({ ok: false });
    }
    expect(parseFigure(' -1.5e3 ')).toEqual({ ok: true, value: -1500 });
    expect(parseFigure('1e999')).toMatchObject({ ok: false });
  });
});

describe('a JSON pointer', () => {
  // RFC 6901, section 5: the document and the pointers that lead to numbers.
  const document = JSON.stringify({
    '': 0,
    'a/b': 1,
    'c%d': 2,
    'e^f': 3,
    'g|h': 4,
    'i\\j': 5,
    'k"l': 6,
    ' ': 7,
    'm~n': 8,
  });
  it.each([
    ['/', 0],
    ['/a~1b', 1],
    ['/c%d', 2],
    ['/e^f', 3],
    ['/g|h', 4],
    ['/i\\j', 5],
    ['/k"l', 6],
    ['/ ', 7],
    ['/m~0n', 8],
  ])('%j gives %i, as in RFC 6901', (pointer, value) => {
    expect(readJsonDocument(pointer, document)).toEqual({ ok: true, value });
  });

  it('reads the last line that is JSON, past what else a program prints', () => {
    const text = 'starting\n{"rate": 1}\n{"rate": 2}\nbye\n';
    expect(readJsonLine('/rate', text)).toEqual({ ok: true, value: 2 });
    expect(readJsonLine('', '5')).toMatchObject({ ok: false });
  });

  it('says what stands there when it is no number', () => {
    expect(readJsonDocument('/x', '{"x":"fast"}')).toMatchObject({
      error: expect.stringContaining('fast'),
    });
    expect(readJsonDocument('/y', '{"x":1}')).toMatchObject({
      error: expect.stringContaining('/y'),
    });
    expect(readJsonDocument('/x', '{')).toMatchObject({
      error: expect.stringContaining('not JSON'),
    });
    expect(readJsonDocument('/__proto__/x', '{}')).toMatchObject({ ok: false });
  });

  it('never throws on any text', () => {
    fc.assert(
      fc.property(fc.string(), fc.string(), (pointer, text) => {
        readJsonLine(`/${pointer.replaceAll('~', '~0')}`, text);
        readJsonDocument(`/${pointer.replaceAll('~', '~0')}`, text);
      }),
    );
  });
});

describe('readMetrics', () => {
  it('reads every kind in the order of the suite, derived ones from the others', async () => {
    const metrics: Metric[] = [
      {
        id: 'speed',
        source: { kind: 'derived', work: 100, per: 'wall' },
        unit: 'By/s',
        better: 'higher',
      },
      {
        id: 'wall',
        source: { kind: 'accounting', reading: 'wall', step: null },
        unit: 's',
        better: 'lower',
      },
      {
        id: 'cpu',
        source: { kind: 'accounting', reading: 'cpu', step: null },
        unit: 's',
        better: 'lower',
      },
      {
        id: 'memory',
        source: { kind: 'accounting', reading: 'peak-memory', step: null },
        unit: 'By',
        better: 'lower',
      },
      pattern('score=(\\d+)', 1000),
    ];
    const found = unwrap(await readMetrics(metrics, { run: accounting }, makeFiles('score=7')));
    expect(found.map(({ id, value }) => [id, value])).toEqual([
      ['speed', 40],
      ['wall', 2.5],
      ['cpu', 2.375],
      ['memory', 12_345_678],
      ['score', 7000],
    ]);
  });

  it('marks a peak memory that is only a bound', async () => {
    const metric: Metric = {
      id: 'm',
      source: { kind: 'accounting', reading: 'peak-memory', step: null },
      unit: 'By',
      better: 'lower',
    };
    const below = { ...accounting, peakMemory: { kind: 'below', bytes: 900 } as const };
    expect(unwrap(await readMetrics([metric], { run: below }, makeFiles()))).toMatchObject([
      { value: 900, bound: 'below' },
    ]);
  });

  it('names the metric, the place and the reason when a figure is not there', async () => {
    const read = await readMetrics(
      [pattern('score=(\\d+)')],
      { run: accounting },
      makeFiles('nothing'),
    );
    expect(read).toMatchObject({ error: expect.stringMatching(/metric score: .*standard output/) });
  });

  it('reads a file of the scratch folder, but follows no link out of it', async () => {
    const files = makeFiles();
    const metric = (path: string): Metric => ({
      id: 'rate',
      source: { kind: 'json', pointer: '/rate', in: { kind: 'file', path }, factor: 1 },
      unit: '1',
      better: 'higher',
    });
    writeFileSync(join(files.scratch, 'r.json'), '{"rate": 3}');
    symlinkSync('/etc/passwd', join(files.scratch, 'link.json'));
    expect(unwrap(await readMetrics([metric('r.json')], { run: accounting }, files))).toMatchObject(
      [{ value: 3 }],
    );
    expect(await readMetrics([metric('link.json')], { run: accounting }, files)).toMatchObject({
      ok: false,
    });
    expect(await readMetrics([metric('../out')], { run: accounting }, files)).toMatchObject({
      ok: false,
    });
  });

  it('derives a figure from a derived one, in whatever order they are written', async () => {
    const derived = (id: string, work: number, per: string): Metric => ({
      id,
      source: { kind: 'derived', work, per },
      unit: '1',
      better: 'higher',
    });
    const metrics = [derived('c', 3, 'b'), derived('b', 10, 'score'), pattern('score=(\\d+)')];
    const found = unwrap(await readMetrics(metrics, { run: accounting }, makeFiles('score=5')));
    expect(found.map(({ value }) => value)).toEqual([1.5, 2, 5]);
  });

  it('divides by no zero and by no mere bound', async () => {
    const metrics: Metric[] = [
      {
        id: 'memory',
        source: { kind: 'accounting', reading: 'peak-memory', step: null },
        unit: 'By',
        better: 'lower',
      },
      {
        id: 'ratio',
        source: { kind: 'derived', work: 1, per: 'memory' },
        unit: '1',
        better: 'higher',
      },
    ];
    for (const peakMemory of [
      { kind: 'below', bytes: 900 },
      { kind: 'exact', bytes: 0 },
    ] as const) {
      const read = await readMetrics(metrics, { run: { ...accounting, peakMemory } }, makeFiles());
      expect(read).toMatchObject({ error: expect.stringContaining('metric ratio') });
    }
  });

  it('takes the size of a regular file only, in the scratch folder only', async () => {
    const files = makeFiles();
    const size = (path: string): Metric => ({
      id: 'size',
      source: { kind: 'file-size', path },
      unit: 'By',
      better: 'lower',
    });
    const read = (path: string): ReturnType<typeof readMetrics> =>
      readMetrics([size(path)], { run: accounting }, files);
    mkdirSync(join(files.scratch, 'folder'));
    writeFileSync(join(files.scratch, 'folder/out.bin'), Buffer.alloc(1234));
    symlinkSync('/etc', join(files.scratch, 'etc'));
    symlinkSync('/etc/passwd', join(files.scratch, 'link'));
    expect(unwrap(await read('folder/out.bin'))).toMatchObject([{ value: 1234 }]);
    for (const path of ['folder', 'link', 'etc/passwd', '../out', 'nothing', 'no/such']) {
      expect(await read(path), path).toMatchObject({ ok: false });
    }
  });

  it('takes the accounting of a step that ran', async () => {
    const load: Accounting = { ...accounting, wallSeconds: 0.25 };
    const metric = (step: string): Metric => ({
      id: 'wall',
      source: { kind: 'accounting', reading: 'wall', step },
      unit: 's',
      better: 'lower',
    });
    const told = { run: accounting, steps: new Map([['load', load]]) };
    expect(unwrap(await readMetrics([metric('load')], told, makeFiles()))).toMatchObject([
      { value: 0.25 },
    ]);
    expect(await readMetrics([metric('other')], told, makeFiles())).toMatchObject({
      error: 'metric wall: step other did not run',
    });
  });
});
