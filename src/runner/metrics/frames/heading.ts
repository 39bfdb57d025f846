import { err, ok, type Result } from '../../../lib/result.ts';
import { suggest } from '../../../lib/suggest.ts';
import type { FrameSource } from '../../../model/suite.ts';

const delimiterNames: Readonly<Record<FrameSource['delimiter'], string>> = {
  ',': 'comma',
  ';': 'semicolon',
  '\t': 'tab',
};
const shownColumns = 20;

/** Place of a column in the heading line, from 0; names count as written, but for blanks around them. */
export function findColumn(
  names: readonly string[],
  { column, delimiter }: Pick<FrameSource, 'column' | 'delimiter'>,
): Result<number, string> {
  const trimmed = names.map((name) => name.trim());
  const found = trimmed.indexOf(column);
  if (found !== -1 && trimmed.lastIndexOf(column) === found) return ok(found);
  if (found !== -1) {
    return err(`the heading line names the column ${quote(column)} twice; expected it once`);
  }
  return err(
    `the heading line has no column ${quote(column)}; ${advice(trimmed, column, delimiter)}`,
  );
}

function advice(
  names: readonly string[],
  column: string,
  delimiter: FrameSource['delimiter'],
): string {
  const [only = ''] = names;
  const other = Object.entries(delimiterNames).find(
    ([character]) => character !== delimiter && only.includes(character),
  );
  if (names.length === 1 && other !== undefined) {
    return `it is one column when split at the ${delimiterNames[delimiter]}: the delimiter seems to be the ${other[1]}`;
  }
  const near = suggest(column, names);
  const listed = names.slice(0, shownColumns).map(quote).join(', ');
  const more = names.length > shownColumns ? ` and ${names.length - shownColumns} more` : '';
  return `${near === null ? '' : `did you mean ${quote(near)}? `}it has ${listed}${more}`;
}

function quote(name: string): string {
  return JSON.stringify(name.length > 60 ? `${name.slice(0, 60)}…` : name);
}
