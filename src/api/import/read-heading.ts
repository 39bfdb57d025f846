import type { CsvField } from '../../lib/csv-rows.ts';
import { suggest } from '../../lib/suggest.ts';
import {
  type KnownFigureColumn,
  knownFigureColumns,
  neededFigureColumns,
} from '../../model/figure-row.ts';
import type { Fault } from './given-figure.ts';

export interface Heading {
  /** Place in the rows, from 0. `suite` and `bound` may be missing. */
  readonly columns: ReadonlyMap<KnownFigureColumn, number>;
  readonly count: number;
  /** Names of columns that nothing is taken from. */
  readonly ignored: readonly string[];
}

/** The columns that the heading row names, and what is wrong with it. Names count exactly, their order does not. */
export function readHeading(row: readonly CsvField[]): {
  readonly heading: Heading;
  readonly faults: readonly Fault[];
} {
  const columns = new Map<KnownFigureColumn, number>();
  const ignored: string[] = [];
  const faults: Fault[] = [];
  for (const [index, { text, line, column }] of row.entries()) {
    if (!isKnown(text)) ignored.push(text);
    else if (columns.has(text))
      faults.push({ line, column, message: `\`${text}\` is there twice` });
    else columns.set(text, index);
  }
  const missing = neededFigureColumns.filter((name) => !columns.has(name));
  const [{ line, column }] = [row[0] ?? { line: 1, column: 1 }];
  if (missing.length > 0) faults.push({ line, column, message: missingText(missing, row) });
  return { heading: { columns, count: row.length, ignored }, faults };
}

function isKnown(text: string): text is KnownFigureColumn {
  return (knownFigureColumns as readonly string[]).includes(text);
}

function missingText(missing: readonly string[], row: readonly CsvField[]): string {
  const [only] = row;
  if (row.length === 1 && only !== undefined && /[;\t|]/.test(only.text)) {
    const found = only.text.includes(';') ? 'semicolons' : 'tabs or bars';
    return `the columns seem to be separated by ${found}; expected commas: save the file as CSV with commas and decimal points`;
  }
  const hints = row.flatMap(({ text }) => {
    const near = isKnown(text) ? null : suggest(text, missing);
    return near === null ? [] : [`did you mean \`${near}\` by \`${text}\`?`];
  });
  const names = missing.map((name) => `\`${name}\``).join(', ');
  const expected = `expected the columns ${neededFigureColumns.join(',')}`;
  return [`no column ${names}`, ...hints, expected].join('; ');
}
