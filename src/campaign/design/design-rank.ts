import type { Column } from '../../stats/least-squares.ts';

/** Entries are small whole numbers, so what elimination leaves of a zero is far below, and of anything else far above. */
const noise = 1e-9;

/**
 * Number of independent columns of a design, by elimination with partial pivoting. The statistics find the same by
 * singular values, for any columns; the search for rigs to add looks at thousands of designs, and this takes a fiftieth of the time.
 */
export function designRank(columns: readonly Column[]): number {
  const rows = columns.map(({ values }) => [...values]);
  const width = rows[0]?.length ?? 0;
  let rank = 0;
  for (let at = 0; at < width && rank < rows.length; at += 1) {
    const pivot = largest(rows, at, rank);
    const chosen = rows[pivot];
    if (chosen === undefined || Math.abs(chosen[at] ?? 0) < noise) continue;
    rows[pivot] = rows[rank] ?? chosen;
    rows[rank] = chosen;
    for (let below = rank + 1; below < rows.length; below += 1) eliminate(rows[below], chosen, at);
    rank += 1;
  }
  return rank;
}

function largest(rows: readonly (readonly number[])[], at: number, from: number): number {
  let best = from;
  for (let row = from + 1; row < rows.length; row += 1)
    if (Math.abs(rows[row]?.[at] ?? 0) > Math.abs(rows[best]?.[at] ?? 0)) best = row;
  return best;
}

function eliminate(row: number[] | undefined, pivot: readonly number[], at: number): void {
  const factor = (row?.[at] ?? 0) / (pivot[at] ?? 1);
  if (row === undefined || factor === 0) return;
  for (let column = at; column < row.length; column += 1)
    row[column] = (row[column] ?? 0) - factor * (pivot[column] ?? 0);
}
