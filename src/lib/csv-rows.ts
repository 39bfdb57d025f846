import { CsvError, type Info, parse } from 'csv-parse/sync';
import { err, ok, type Result } from './result.ts';

/** One value of a CSV with the place where it begins: 1-based, columns in UTF-16 units. */
export interface CsvField {
  readonly text: string;
  readonly line: number;
  readonly column: number;
}

type Place = Omit<CsvField, 'text'>;
const nowhere: Place = { line: 1, column: 1 };

export interface CsvFault {
  readonly line: number;
  readonly message: string;
}

/**
 * Rows of an RFC 4180 text with commas, the heading among them; blanks around values do not count, and rows without any
 * value are left out. Rows may differ in length. The fault is the first place where the text is no CSV.
 */
export function parseCsvRows(text: string): Result<readonly (readonly CsvField[])[], CsvFault> {
  const bytes = Buffer.from(text, 'utf8');
  const options = { bom: true, info: true, trim: true, relax_column_count: true } as const;
  try {
    const parsed = parse(bytes, { ...options, skip_empty_lines: true }) as unknown as readonly {
      readonly record: readonly string[];
      readonly info: Info;
    }[];
    const places = new Places();
    let start = 0;
    const rows = parsed.map(({ record, info }) => {
      const starts = places.ofFields(bytes.toString('utf8', start, info.bytes));
      start = info.bytes;
      return record.map((value, at) => ({ text: value, ...(starts[at] ?? nowhere) }));
    });
    return ok(rows.filter((row) => row.some((field) => field.text !== '')));
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return err({ line: lineOf(error), message: faultText(error.code) });
  }
}

function lineOf(error: CsvError): number {
  const line = (error as unknown as { readonly lines?: unknown }).lines;
  return typeof line === 'number' ? line : 1;
}

function faultText(code: string): string {
  switch (code) {
    case 'CSV_QUOTE_NOT_CLOSED':
      return 'a quotation mark is opened and never closed';
    case 'CSV_INVALID_CLOSING_QUOTE':
      return 'text follows a closing quotation mark; write a quotation mark within a value twice';
    case 'INVALID_OPENING_QUOTE':
      return 'a quotation mark stands within a value; put the whole value in quotation marks, and write this one twice';
    default:
      return `not a CSV (${code})`;
  }
}

/** Where fields begin, from one row's text to the next; a row's text may start with empty lines. */
class Places {
  #line = 1;
  #column = 1;
  #last = '';

  ofFields(row: string): readonly Place[] {
    const starts: Place[] = [];
    let isQuoted = false;
    for (const unit of row.replace(/^\uFEFF/, '').split('')) {
      if (starts.length === 0 && !/\s/.test(unit)) starts.push(this.#here());
      if (unit === '"') isQuoted = !isQuoted;
      this.#step(unit);
      if (unit === ',' && !isQuoted) starts.push(this.#here());
    }
    return starts;
  }

  #here(): Place {
    return { line: this.#line, column: this.#column };
  }

  #step(unit: string): void {
    const isSecondHalf = unit === '\n' && this.#last === '\r';
    if (unit === '\r' || (unit === '\n' && !isSecondHalf)) this.#line += 1;
    this.#column = unit === '\r' || unit === '\n' ? 1 : this.#column + 1;
    this.#last = unit;
  }
}
