import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ok, type Result } from '../../../../../src/lib/result.ts';
import type { FrameSource, Metric } from '../../../../../src/model/suite.ts';
import { ColumnScanner } from '../../../../../src/runner/metrics/frames/column-scanner.ts';
import { frameReader } from '../../../../../src/runner/metrics/frames/frame-reader.ts';
import { readFrameFigures } from '../../../../../src/runner/metrics/frames/read-frames.ts';
import { temporaryFolder } from '../../../../setup/temporary-folder.ts';
import { unwrap } from '../../../../setup/unwrap.ts';

const source: FrameSource = {
  kind: 'frames',
  in: { kind: 'file', path: 'frames.csv' },
  column: 'ms',
  delimiter: ',',
  factor: 0.001,
  figure: 'average-rate',
};

async function readFrames(wanted: FrameSource, path: string): Promise<Result<number, string>> {
  const figures = await readFrameFigures(path, wanted, [wanted.figure]);
  return figures.ok ? ok(figures.value[0] ?? Number.NaN) : figures;
}

function logOf(content: string | Uint8Array): string {
  const path = join(temporaryFolder(), 'frames.csv');
  writeFileSync(path, content);
  return path;
}

async function faultOf(content: string | Uint8Array, changes: Partial<FrameSource> = {}) {
  const read = await readFrames({ ...source, ...changes }, logOf(content));
  return read.ok ? `the value ${read.value}` : read.error;
}

/** All times of a text given to the scanner in pieces of any size. */
function scanPieces(text: string, cuts: readonly number[]): number[] | string {
  const scanner = new ColumnScanner({ column: 'ms', delimiter: ',' });
  const bytes = Buffer.from(text);
  const room = new Float64Array(bytes.length);
  const times: number[] = [];
  let start = 0;
  for (const end of [...cuts, bytes.length].sort((a, b) => a - b)) {
    if (end <= start) continue;
    const { count, consumed } = scanner.scan(bytes.subarray(start, end), room);
    times.push(...room.subarray(0, count));
    start += consumed;
  }
  return scanner.fault ?? times;
}

describe('readFrames', () => {
  it.each([
    ['with LF', 'frame,ms\n1,10\n2,30\n'],
    ['with CRLF', 'frame,ms\r\n1,10\r\n2,30\r\n'],
    ['with a byte order mark', '\ufefffms,ms\n1,10\n2,30\n'],
    ['without a line end at the end', 'frame,ms\n1,10\n2,30'],
    ['with blank lines at the end', 'frame,ms\n1,10\n2,30\n\r\n\n'],
    ['with quotes', '"a ""frame"", so to say","ms"\n"1\n",10\n"2,2","30"\n'],
    ['with blanks around the numbers', 'frame, ms \n1, 10\n2,\t30 \n'],
    ['with other ways to write a number', 'ms,frame\n1e1,\n+30.,"Ångström"\n'],
    ['with an inch mark in a field', 'frame,ms\n1,10\n24" panel,30\n'],
    ['with a first column marked by a byte order mark', '\ufeffms\n10\n30\n'],
  ])('reads a log %s', async (_, content) => {
    expect(unwrap(await readFrames(source, logOf(content)))).toBeCloseTo(50, 12);
  });

  it.each([';', '\t'] as const)('reads a log with %j between columns', async (delimiter) => {
    const content = `frame${delimiter}ms\n1${delimiter}10\n2${delimiter}30\n`;
    expect(unwrap(await readFrames({ ...source, delimiter }, logOf(content)))).toBeCloseTo(50, 12);
  });

  it('gives several figures from one reading, in the order asked for', async () => {
    const path = logOf(`ms\n${'10\n'.repeat(60)}25\n`);
    const figures = ['long-frames', 'median-time', 'time-in-long-frames'] as const;
    const found = unwrap(await readFrameFigures(path, source, figures));
    expect(found[0]).toBe(1);
    expect(found[1]).toBeCloseTo(0.01, 12);
    expect(found[2]).toBeCloseTo(0.025, 12);
  });

  it('reads logs longer than its pieces and blocks', async () => {
    const rows = Array.from({ length: 200_000 }, (_, index) => `${index},${10 + (index % 7)},x\n`);
    const path = logOf(`frame,ms,scene\n${rows.join('')}`);
    const sum = rows.reduce((total, _, index) => total + 10 + (index % 7), 0);
    expect(unwrap(await readFrames(source, path))).toBeCloseTo(200_000 / (sum / 1000), 9);
    const last = await readFrames(source, logOf(`frame,ms,scene\n${rows.join('')}7,0,x\n`));
    expect(last).toMatchObject({ error: expect.stringMatching(/^line 200002: /) });
  });

  it.each([
    ['an empty file', '', /^is empty; expected a heading line/],
    ['a heading alone', 'ms\n', /^0 frames are too few for average-rate, which needs 2/],
    ['one frame', 'ms\n10\n', /^1 frame is too few/],
    [
      'a missing column',
      'frame,msec\n1,10\n',
      /no column "ms"; did you mean "msec"\? it has "frame", "msec"/,
    ],
    ['the wrong delimiter', 'frame;ms\n1;10\n', /the delimiter seems to be the semicolon/],
    ['a column named twice', 'ms,ms\n1,10\n', /names the column "ms" twice/],
    ['a word', 'ms\n10\nslow\n', /^line 3: the column "ms" holds "slow"; expected a plain number/],
    ['a unit beside the number', 'ms\n10 ms\n', /^line 2: .*holds "10 ms"/],
    ['hexadecimal', 'ms\n0x10\n', /^line 2: .*holds "0x10"/],
    [
      'a number too many',
      'ms\n10,11\n',
      /^line 2 has 2 fields, and the heading line 1; a decimal comma/,
    ],
    [
      'a decimal comma in quotes',
      'ms\n"16,7"\n',
      /^line 2: .*decimal comma; expected a decimal point, 16.7/,
    ],
    ['a thousands separator', 'ms\n"1,016.7"\n', /^line 2: .*holds "1,016.7"/],
    ['an empty field', 'frame,ms\n1,\n', /^line 2: the column "ms" is empty/],
    ['zero', 'ms\n10\n0.000\n', /^line 3: .*holds "0.000"; a frame takes a finite time above zero/],
    ['a negative time', 'ms\n-16.7\n', /^line 2: .*above zero/],
    ['infinity', 'ms\nInfinity\n', /^line 2: .*expected a plain number/],
    ['more than a double holds', 'ms\n1e999\n', /^line 2: .*finite/],
    ['a missing value', 'ms\nNaN\n', /^line 2: .*expected a plain number/],
    [
      'a row cut off',
      'frame,ms,scene\n1,10,x\n2,1',
      /^line 3 has 2 fields, and the heading line 3/,
    ],
    ['a blank line between', 'ms\n10\n\n30\n', /^line 3 is blank, and rows follow it/],
    ['a blank first line', '\nms\n10\n', /^line 1 is blank/],
    [
      'a quotation mark left open',
      'frame,ms\n"1,10\n2,20\n',
      /^line 2 opens a quotation mark that is not closed/,
    ],
    [
      'text after a quotation mark',
      'frame,ms\n"1"x,10\n',
      /^line 2 has text after a closing quotation mark/,
    ],
    ['carriage returns alone', 'ms\r10\r20\r', /^line 1 holds a carriage return alone/],
    ['a NUL byte', 'ms\n10\n2\u00000\n', /^line 3 holds a NUL byte/],
    ['lines counted within quotes', 'frame,ms\n"a\nb",10\n"c",x\n', /^line 4: /],
  ])('refuses %s', async (_, content, message) => {
    expect(await faultOf(content)).toMatch(message);
  });

  it('refuses another encoding, with the line', async () => {
    expect(await faultOf(Buffer.from('ms\n10\n', 'utf16le'))).toMatch(/NUL byte/);
    expect(await faultOf(Buffer.from('\ufeffms\n10\n', 'utf16le'))).toMatch(/is UTF-16/);
    const latin = Buffer.from('frame,ms\n1,10\nm\u00fcde,10\n', 'latin1');
    expect(await faultOf(latin)).toBe('line 3 is not UTF-8; expected UTF-8 text');
  });

  it('refuses a line without end, and what is no file', async () => {
    expect(await faultOf(`ms\n${'1'.repeat(300_000)}`)).toMatch(/^line 2 is longer than 256 KiB/);
    const folder = temporaryFolder();
    mkdirSync(join(folder, 'folder'));
    writeFileSync(join(folder, 'file'), 'ms\n1\n2\n');
    symlinkSync(join(folder, 'file'), join(folder, 'link'));
    const read = (name: string) => readFrames(source, join(folder, name));
    expect(await read('folder')).toMatchObject({ error: 'is not a regular file' });
    expect(await read('link')).toMatchObject({ error: 'cannot be read: ELOOP' });
    expect(await read('nothing')).toMatchObject({ error: 'cannot be read: ENOENT' });
  });
});

describe('ColumnScanner', () => {
  const time = fc
    .oneof(
      fc.double({ min: Number.MIN_VALUE, noNaN: true, noDefaultInfinity: true }),
      fc.integer({ min: 1, max: 1e9 }).map((whole) => whole / 1e4),
    )
    .filter((value) => value > 0);

  it('reads what a CSV library wrote, to the last bit, however it is cut into pieces', () => {
    const row = fc.tuple(fc.string({ unit: 'grapheme' }), time, fc.string());
    const cuts = fc.array(fc.nat(400), { maxLength: 6 });
    fc.assert(
      fc.property(fc.array(row, { minLength: 1 }), cuts, fc.boolean(), (rows, places, crlf) => {
        const clean = rows.map(([one, value, other]) => [
          one.replaceAll('\0', ''),
          value,
          other.replaceAll('\0', ''),
        ]);
        const text = stringify([['one', 'ms', 'other'], ...clean], {
          record_delimiter: crlf ? 'windows' : 'unix',
          quoted_match: /[\r\n]/,
        });
        const expected = rows.map(([, value]) => value);
        expect(scanPieces(text, places)).toEqual(expected);
        const library = parse(text, { from_line: 2 }).map(([, value]) => Number(value));
        expect(library).toEqual(expected);
      }),
    );
  });

  it('never takes a faulty row for a good one', () => {
    const cell = fc.constantFrom('1', '2.5', '"3"', '', 'x', '"', '""', '0', '1,5', ' 7 ', '\r');
    const text = fc.array(cell, { maxLength: 12 }).map((cells) => `ms\n${cells.join('\n')}\n`);
    fc.assert(
      fc.property(text, fc.array(fc.nat(40), { maxLength: 4 }), (content, cuts) => {
        expect(scanPieces(content, cuts)).toEqual(scanPieces(content, []));
      }),
    );
  });
});

describe('frameReader', () => {
  const metric = (changes: Partial<FrameSource>): Metric => ({
    id: 'm',
    source: { ...source, ...changes },
    unit: '{frames}/s',
    better: 'higher',
  });

  it('gives each figure of each column, and names the file in its faults', async () => {
    const scratch = temporaryFolder();
    writeFileSync(join(scratch, 'frames.csv'), 'ms,other\n10,20\n30,20\n');
    const metrics = [metric({}), metric({ figure: 'median-time' }), metric({ column: 'other' })];
    const read = frameReader(metrics, { stdout: '', stderr: '', scratch });
    expect(unwrap(await read(metrics[0]?.source as FrameSource))).toBeCloseTo(50, 12);
    expect(unwrap(await read(metrics[1]?.source as FrameSource))).toBeCloseTo(0.01, 12);
    expect(unwrap(await read(metrics[2]?.source as FrameSource))).toBeCloseTo(50, 12);
    const missing = metric({ column: 'none' });
    const fault = await frameReader([missing], { stdout: '', stderr: '', scratch })(
      missing.source as FrameSource,
    );
    expect(fault).toMatchObject({ ok: false, error: expect.stringContaining('frames.csv') });
  });
});
