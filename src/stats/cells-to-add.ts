import { type Factor, termColumns } from './factor-columns.ts';
import type { Place } from './fit-factors.ts';
import { independentColumns } from './least-squares.ts';

/** Grids larger than this are not searched. */
const mostCells = 1024;

/**
 * The fewest combinations of levels to add so that all `terms` can be told apart: those that differ least from the first of `cells`
 * come first. Empty where they can be told already, or where the grid is too large to search.
 */
export function cellsToAdd(
  factors: readonly Factor[],
  cells: readonly Place[],
  terms: readonly (readonly string[])[],
): readonly Place[] {
  const [first] = cells;
  const size = factors.reduce((product, { levels }) => product * levels.length, 1);
  if (size > mostCells || first === undefined) return [];
  const grid = gridOf(factors);
  const distance = (cell: Place): number =>
    factors.filter(({ name }) => cell[name] !== first[name]).length;
  const added: Place[] = [];
  let reached = rankOf(factors, cells, terms);
  const wanted = rankOf(factors, grid, terms);
  for (const cell of grid.toSorted((a, b) => distance(a) - distance(b))) {
    if (reached === wanted) break;
    const rank = rankOf(factors, [...cells, ...added, cell], terms);
    if (rank > reached) added.push(cell);
    reached = rank;
  }
  return added;
}

function rankOf(
  factors: readonly Factor[],
  cells: readonly Place[],
  terms: readonly (readonly string[])[],
): number {
  const runs = cells.map((levels) => ({ levels, value: 0 }));
  const columns = terms.flatMap((term) => termColumns(term, factors, runs));
  const intercept = { name: '(mean)', values: runs.map(() => 1) };
  return independentColumns([intercept, ...columns]).kept.length;
}

function gridOf(factors: readonly Factor[]): readonly Place[] {
  return factors.reduce<readonly Place[]>(
    (places, { name, levels }) =>
      places.flatMap((place) => levels.map((level) => ({ ...place, [name]: level }))),
    [{}],
  );
}
