import { type CsvField, parseCsvRows } from '../../lib/csv-rows.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import type { PrivateLiteral } from '../../lib/scrub-text.ts';
import { checkTogether } from './check-together.ts';
import type { Fault, GivenFigure } from './given-figure.ts';
import { parseRow } from './parse-row.ts';
import { readHeading } from './read-heading.ts';

export interface GivenFigures {
  readonly figures: readonly [GivenFigure, ...GivenFigure[]];
  /** Columns that nothing was taken from. */
  readonly ignored: readonly string[];
}

/** The figures of a long-form CSV, or all that is wrong with it, in the order of the file. */
export function parseFigures(
  text: string,
  literals: readonly PrivateLiteral[],
): Result<GivenFigures, readonly Fault[]> {
  const rows = parseCsvRows(text);
  if (!rows.ok) return err([{ column: 1, ...rows.error }]);
  const [first, ...rest] = rows.value;
  if (first === undefined) return err([{ line: 1, column: 1, message: 'is empty' }]);
  const { heading, faults } = readHeading(first);
  if (faults.length > 0) return err(faults);
  const parsed = rest.map((row: readonly CsvField[]) => parseRow(row, heading, literals));
  const figures = parsed.flatMap((row) => (row.ok ? [row.value] : []));
  const all = [
    ...parsed.flatMap((row) => (row.ok ? [] : row.error)),
    ...checkTogether(figures),
  ].sort((one, other) => one.line - other.line || one.column - other.column);
  if (all.length > 0) return err(all);
  const [figure, ...others] = figures;
  if (figure === undefined) return err([{ line: 2, column: 1, message: 'no row with a figure' }]);
  return ok({ figures: [figure, ...others], ignored: heading.ignored });
}
