import { stringify } from 'csv-stringify/sync';
import { type FigureRow, figureColumns } from '../../model/figure-row.ts';

/**
 * Figures as CSV (RFC 4180, UTF-8, a heading line). A value is the shortest decimal that reads back as the same double
 * (ECMA-262, Number::toString). No cell is changed to keep a spreadsheet from taking it for a formula, since that would
 * break reading back; import refuses the names that could be one.
 */
export function renderFiguresCsv(rows: readonly FigureRow[]): string {
  return stringify(
    [figureColumns, ...rows.map((row) => figureColumns.map((column) => String(row[column] ?? '')))],
    { record_delimiter: 'windows' },
  );
}
