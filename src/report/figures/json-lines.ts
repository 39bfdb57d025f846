import { type FigureRow, figureColumns } from '../../model/figure-row.ts';

/** Figures as JSON Lines: an object for each, what is not there being null. */
export function renderFiguresJsonLines(rows: readonly FigureRow[]): string {
  return rows
    .map((row) => {
      const entries = figureColumns.map((column) => [column, row[column]]);
      return `${JSON.stringify(Object.fromEntries(entries))}\n`;
    })
    .join('');
}
