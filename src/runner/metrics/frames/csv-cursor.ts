import { isUtf8 } from 'node:buffer';

const lineFeed = 0x0a;
const carriageReturn = 0x0d;
const quoteMark = 0x22;

/**
 * Walks through a CSV (RFC 4180, UTF-8) that comes in pieces, without making strings of what nobody asks for. Lenient in
 * two points: LF alone ends a line as well, and a quotation mark inside a field that does not begin with one stands for
 * itself.
 */
export class CsvCursor {
  readonly #delimiter: number;
  bytes: Buffer = Buffer.alloc(0);
  /** Where the next row begins. */
  position = 0;
  /** Of the next row, from 1. */
  line = 1;
  /** What is wrong with the text, with its line; null as long as nothing is. */
  fault: string | null = null;
  /** End of the last whole line of `bytes`. */
  #limit = 0;
  #quotedLines = 0;
  #blankLine: number | null = null;

  constructor(delimiter: string) {
    this.#delimiter = delimiter.charCodeAt(0);
  }

  /** Goes on with text that begins where the last row ended. */
  load(bytes: Buffer): void {
    this.bytes = bytes;
    this.position = 0;
    this.#limit = bytes.lastIndexOf(lineFeed) + 1;
    const nul = bytes.indexOf(0);
    if (nul !== -1) {
      this.fault = `line ${this.#lineAt(nul)} holds a NUL byte; expected UTF-8 text`;
    } else if (!isUtf8(bytes.subarray(0, this.#limit))) {
      this.fault = `line ${this.#lineAt(this.#wrongLine())} is not UTF-8; expected UTF-8 text`;
    }
  }

  /** Goes over blank lines, which only the end of a file may have. True when a row begins here, perhaps not a whole one. */
  atRow(): boolean {
    const { bytes } = this;
    while (this.fault === null && this.position < this.#limit) {
      const first = bytes[this.position];
      const isCrLf = first === carriageReturn && bytes[this.position + 1] === lineFeed;
      if (first !== lineFeed && !isCrLf) {
        if (this.#blankLine === null) return true;
        this.fault = `line ${this.#blankLine} is blank, and rows follow it; expected a row`;
      } else {
        this.#blankLine ??= this.line;
        this.line += 1;
        this.position += isCrLf ? 2 : 1;
      }
    }
    return false;
  }

  /** Where the field that begins at `start` ends; -1: the row is not whole, or at fault. */
  fieldEnd(start: number): number {
    const { bytes } = this;
    if (bytes[start] === quoteMark) return this.#quotedEnd(start);
    let end = start;
    for (let byte = bytes[end]; !this.isEnd(byte); byte = bytes[end]) end += 1;
    return end;
  }

  isDelimiter(byte: number | undefined): boolean {
    return byte === this.#delimiter;
  }

  isEnd(byte: number | undefined): boolean {
    return byte === this.#delimiter || byte === lineFeed || byte === carriageReturn;
  }

  /** The text of a field, quotation marks taken off. */
  text(start: number, end: number): string {
    const raw = this.bytes.toString('utf8', start, end);
    return raw.startsWith('"') ? raw.slice(1, -1).replaceAll('""', '"') : raw;
  }

  /** Goes to the next row, `end` being the end of a row's last field; false: at fault. */
  endRow(end: number): boolean {
    let next = end;
    if (this.bytes[next] === carriageReturn) next += 1;
    if (this.bytes[next] !== lineFeed) {
      this.fault = `line ${this.line} holds a carriage return alone; expected lines to end in LF or CRLF`;
      return false;
    }
    this.position = next + 1;
    this.line += 1 + this.#quotedLines;
    this.#quotedLines = 0;
    return true;
  }

  #quotedEnd(start: number): number {
    const { bytes } = this;
    for (let mark = start + 1; ; mark += 2) {
      mark = bytes.indexOf(quoteMark, mark);
      if (mark === -1 || mark + 1 >= this.#limit) {
        // Seen again with the next piece.
        this.#quotedLines = 0;
        return -1;
      }
      if (bytes[mark + 1] === quoteMark) continue;
      if (this.isEnd(bytes[mark + 1])) {
        this.#quotedLines += countLines(bytes, start, mark);
        return mark + 1;
      }
      this.fault = `line ${this.line} has text after a closing quotation mark; expected the delimiter or the end of the line`;
      return -1;
    }
  }

  #wrongLine(): number {
    let start = 0;
    for (let end = 0; start < this.#limit; start = end) {
      end = this.bytes.indexOf(lineFeed, start) + 1;
      if (!isUtf8(this.bytes.subarray(start, end))) return start;
    }
    return start;
  }

  #lineAt(position: number): number {
    return this.line + countLines(this.bytes, 0, position);
  }
}

function countLines(bytes: Buffer, start: number, end: number): number {
  let lines = 0;
  for (let at = start; at < end; at += 1) if (bytes[at] === lineFeed) lines += 1;
  return lines;
}
