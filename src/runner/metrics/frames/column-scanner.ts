import type { FrameSource } from '../../../model/suite.ts';
import { CsvCursor } from './csv-cursor.ts';
import { findColumn } from './heading.ts';
import { parseFrameTime } from './plain-number.ts';

const point = 0x2e;
const zero = 0x30;
/** A whole number below 10^15 and a power of ten up to 10^22 are exact doubles, so their quotient is rounded once. */
const exactDigits = 15;
const powers = Float64Array.from({ length: exactDigits + 1 }, (_, exponent) => 10 ** exponent);

/**
 * Takes one column of times out of a CSV with a heading line. Written by hand, since a CSV library makes strings of every
 * field: see `npm run bench:frames`.
 */
export class ColumnScanner {
  readonly #source: Pick<FrameSource, 'column' | 'delimiter'>;
  readonly #cursor: CsvCursor;
  #columns = 0;
  #wanted = -1;
  #value = 0;

  constructor(source: Pick<FrameSource, 'column' | 'delimiter'>) {
    this.#source = source;
    this.#cursor = new CsvCursor(source.delimiter);
  }

  get fault(): string | null {
    return this.#cursor.fault;
  }

  get hasHeading(): boolean {
    return this.#columns > 0;
  }

  /** Of the next row, from 1. */
  get line(): number {
    return this.#cursor.line;
  }

  /**
   * Takes the times of all whole rows in `bytes`, which begin where the last call stopped, into `times` (with room for one
   * in two bytes). Returns how many there are and where the first row begins that is not whole yet.
   */
  scan(bytes: Buffer, times: Float64Array): { readonly count: number; readonly consumed: number } {
    const cursor = this.#cursor;
    cursor.load(bytes);
    let count = 0;
    while (cursor.atRow()) {
      if (!this.hasHeading) {
        if (!this.#readHeading()) break;
      } else {
        if (!this.#readRow()) break;
        times[count] = this.#value;
        count += 1;
      }
    }
    return { count, consumed: cursor.position };
  }

  /** False: not whole yet, or at fault. */
  #readHeading(): boolean {
    const cursor = this.#cursor;
    const names: string[] = [];
    for (let start = cursor.position; ; ) {
      const end = cursor.fieldEnd(start);
      if (end === -1) return false;
      names.push(cursor.text(start, end));
      start = end + 1;
      if (cursor.isDelimiter(cursor.bytes[end])) continue;
      const column = findColumn(names, this.#source);
      if (column.ok) this.#wanted = column.value;
      else cursor.fault = column.error;
      this.#columns = names.length;
      return column.ok && cursor.endRow(end);
    }
  }

  /** Leaves the row's time in `#value`. False: not whole yet, or at fault. */
  #readRow(): boolean {
    const cursor = this.#cursor;
    let start = cursor.position;
    for (let field = 0; ; field += 1) {
      const end = field === this.#wanted ? this.#readTime(start) : cursor.fieldEnd(start);
      if (end === -1) return false;
      start = end + 1;
      if (cursor.isDelimiter(cursor.bytes[end])) continue;
      if (field + 1 === this.#columns) return cursor.endRow(end);
      cursor.fault = this.#raggedRow(field + 1);
      return false;
    }
  }

  /** Plain digits with a point at once; whatever else there may be by way of a string. */
  #readTime(start: number): number {
    const { bytes } = this.#cursor;
    let end = start;
    let digits = 0;
    let decimals = 0;
    let whole = 0;
    for (let seenPoint = false; ; end += 1) {
      const digit = (bytes[end] as number) - zero;
      if (digit >= 0 && digit <= 9) {
        whole = whole * 10 + digit;
        digits += 1;
        if (seenPoint) decimals += 1;
      } else if (bytes[end] === point && !seenPoint) seenPoint = true;
      else break;
    }
    const isPlain = digits > 0 && digits <= exactDigits && whole > 0;
    if (!isPlain || !this.#cursor.isEnd(bytes[end])) return this.#readUnusualTime(start);
    this.#value = whole / (powers[decimals] as number);
    return end;
  }

  #readUnusualTime(start: number): number {
    const cursor = this.#cursor;
    const end = cursor.fieldEnd(start);
    if (end === -1) return -1;
    const time = parseFrameTime(cursor.text(start, end));
    if (time.ok) {
      this.#value = time.value;
      return end;
    }
    cursor.fault = `line ${cursor.line}: the column ${JSON.stringify(this.#source.column)} ${time.error}`;
    return -1;
  }

  #raggedRow(fields: number): string {
    const { delimiter } = this.#source;
    const comma =
      delimiter === ',' && fields > this.#columns
        ? '; a decimal comma looks like this: write numbers with a decimal point'
        : '';
    return `line ${this.#cursor.line} has ${fields === 1 ? '1 field' : `${fields} fields`}, and the heading line ${this.#columns}${comma}`;
  }
}
