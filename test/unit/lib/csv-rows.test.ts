import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseCsvRows } from '../../../src/lib/csv-rows.ts';
import { unwrap } from '../../setup/unwrap.ts';

function placesOf(text: string): string[] {
  return unwrap(parseCsvRows(text))
    .flat()
    .map((field) => `${field.text}@${field.line}:${field.column}`);
}

describe('parseCsvRows', () => {
  it.each([
    ['a,b\n1,22\n', ['a@1:1', 'b@1:3', '1@2:1', '22@2:3']],
    ['a,b\r\n1,2\r\n', ['a@1:1', 'b@1:3', '1@2:1', '2@2:3']],
    ['a,b\r1,2', ['a@1:1', 'b@1:3', '1@2:1', '2@2:3']],
    ['\uFEFFa,b\n', ['a@1:1', 'b@1:3']],
    ['a,b\n\n\n1,2\n', ['a@1:1', 'b@1:3', '1@4:1', '2@4:3']],
    ['a,b\n,\n  \n1,2\n', ['a@1:1', 'b@1:3', '1@4:1', '2@4:3']],
    ['ä, ö\n,2\n', ['ä@1:1', 'ö@1:3', '@2:1', '2@2:2']],
    ['"a, ""b""",c\n', ['a, "b"@1:1', 'c@1:12']],
    ['"two\r\nlines",b\r\nc,d\r\n', ['two\r\nlines@1:1', 'b@2:8', 'c@3:1', 'd@3:3']],
    ['', []],
  ])('gives each value its place in %j', (text, places) => {
    expect(placesOf(text)).toEqual(places);
  });

  it.each([
    ['a,b\n"1,2\n', 2, 'a quotation mark is opened and never closed'],
    ['a,b\n"1"2,3\n', 2, 'text follows a closing quotation mark'],
    ['a,b\n1"2,3\n', 2, 'a quotation mark stands within a value'],
  ])('names the line of the fault in %j', (text, line, message) => {
    expect(parseCsvRows(text)).toMatchObject({
      ok: false,
      error: { line, message: expect.stringContaining(message) },
    });
  });

  it('reads what another library writes, with a place where each value can be found', () => {
    const value = fc
      .string({ unit: fc.constantFrom(...'abä😀",\n\r 1.'), maxLength: 6 })
      .filter((text) => text.trim() === text);
    const table = fc
      .tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 1, max: 5 }))
      .chain(([columns, rows]) =>
        fc.array(fc.array(value, { minLength: columns, maxLength: columns }), { maxLength: rows }),
      )
      .map((rows) => rows.filter((row) => row.some((text) => text !== '')));
    fc.assert(
      fc.property(table, fc.constantFrom('\n', '\r\n'), (rows, end) => {
        const text = stringify(rows, { record_delimiter: end, quoted: true, quoted_empty: true });
        const read = unwrap(parseCsvRows(text));
        expect(read.map((row) => row.map((field) => field.text))).toEqual(rows);
        const lines = text.split(/\r\n|\n|\r/);
        for (const { line, column } of read.flat()) expect(lines[line - 1]?.[column - 1]).toBe('"');
      }),
    );
  });
});
