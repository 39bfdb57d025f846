import { stringify } from 'csv-stringify/sync';
import { renderTable, shorten } from './text-table.ts';

const pageWidth = 80;
const leastWidth = 6;

/**
 * Rows of an answer as a table of 80 columns: what is too wide is cut with an ellipsis, the widest columns first. Columns that cannot
 * stand side by side stand below each other, a block each row.
 */
export function renderQueryTable(
  columns: readonly string[],
  rows: readonly (readonly unknown[])[],
): string {
  const cells = rows.map((row) => row.map(cellText));
  const counted = rows.length === 1 ? '1 row' : `${rows.length} rows`;
  if ((leastWidth + 2) * columns.length > pageWidth + 2)
    return [...cells.map((row) => renderBlock(columns, row)), counted].join('\n\n');
  const widths = columns.map((title, at) =>
    Math.max(title.length, ...cells.slice(0, 10_000).map((row) => row[at]?.length ?? 0)),
  );
  const room = pageWidth - 2 * (columns.length - 1);
  while (sum(widths) > room && Math.max(...widths) > leastWidth) {
    const widest = widths.indexOf(Math.max(...widths));
    widths[widest] = (widths[widest] ?? 0) - 1;
  }
  const isNumber = columns.map((_, at) =>
    rows.some((row) => typeof row[at] === 'number')
      ? rows.every((row) => row[at] === null || typeof row[at] === 'number')
      : false,
  );
  const table = renderTable(
    columns.map((title, at) => ({
      title: shorten(title, widths[at] ?? 0),
      align: isNumber[at] ? 'right' : 'left',
    })),
    cells.map((row) => row.map((cell, at) => shorten(cell, widths[at] ?? 0))),
  );
  return `${table}\n${counted}`;
}

function renderBlock(columns: readonly string[], row: readonly string[]): string {
  const width = Math.min(30, Math.max(...columns.map(({ length }) => length)));
  return columns
    .map((title, at) => {
      const label = shorten(title, width).padEnd(width);
      return `${label}  ${shorten(row[at] ?? '', pageWidth - width - 2)}`;
    })
    .join('\n');
}

/** RFC 4180, with a line of titles; absent values are empty. */
export function renderQueryCsv(
  columns: readonly string[],
  rows: readonly (readonly unknown[])[],
): string {
  const cells = rows.map((row) => row.map((value) => (value === null ? '' : cellText(value))));
  return stringify([columns, ...cells], { record_delimiter: 'windows' });
}

/** Control characters would move the cursor of a terminal. */
function cellText(value: unknown): string {
  if (value === null || value === undefined) return '-';
  const text = typeof value === 'object' ? JSON.stringify(value) : String(value);
  return text.replace(/\p{Cc}+/gu, ' ');
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
