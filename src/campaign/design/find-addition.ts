import type { Factor } from '../../model/campaign.ts';
import { type Cell, changesBetween, type Geometry, geometryOf, isSameCell } from './geometry.ts';

/** Looking at more designs than this takes longer than a person waits. */
const mostDesigns = 3000;
const mostCandidates = 256;
const mostRigs = 8;

/**
 * The fewest rigs that, added to `cells`, make `isMet` true; among as few, those that differ least from a rig that is there. Sets of cells
 * are tried all, the smaller ones first, as far as that is quick; beyond, one rig after the other that brings `progress` (a number that
 * grows) furthest. Null where neither finds any within eight rigs.
 */
export function findAddition(
  factors: readonly Factor[],
  cells: readonly Cell[],
  isMet: (geometry: Geometry) => boolean,
  progress: (geometry: Geometry) => number,
): readonly Cell[] | null {
  const candidates = candidatesFor(factors, cells);
  const trial = (added: readonly Cell[]): Geometry => geometryOf(factors, [...cells, ...added]);
  let designs = 0;
  for (let size = 1; size <= Math.min(mostRigs, candidates.length); size += 1) {
    designs += combinations(candidates.length, size);
    if (designs > mostDesigns) break;
    const best = leastOf(subsets(candidates, size), (added) => isMet(trial(added)));
    if (best !== null) return best.map(({ cell }) => cell);
  }
  return oneByOne(candidates, trial, isMet, progress);
}

interface Candidate {
  readonly cell: Cell;
  /** Factors to change in the nearest rig that is there. */
  readonly changes: number;
}

/** Combinations of levels that no rig has, nearest to a rig first. */
function candidatesFor(factors: readonly Factor[], cells: readonly Cell[]): readonly Candidate[] {
  return allCells(factors, cells)
    .filter((cell) => !cells.some((other) => isSameCell(cell, other)))
    .map((cell) => ({
      cell,
      changes: Math.min(...cells.map((other) => changesBetween(cell, other))),
    }))
    .sort((one, other) => one.changes - other.changes)
    .slice(0, mostCandidates);
}

/** Every combination, or where these are too many, those with up to two changes from a rig. */
function allCells(factors: readonly Factor[], cells: readonly Cell[]): readonly Cell[] {
  const count = factors.reduce((product, { levels }) => product * levels.length, 1);
  if (count <= 16 * mostCandidates) {
    return factors.reduce<readonly Cell[]>(
      (so, { id, levels }) =>
        so.flatMap((cell) => levels.map((level) => ({ ...cell, [id]: level }))),
      [{}],
    );
  }
  const once = cells.flatMap((cell) => neighbours(cell, factors));
  const near = [
    ...once,
    ...once.slice(0, mostCandidates).flatMap((cell) => neighbours(cell, factors)),
  ];
  return [...new Map(near.map((cell) => [keyOf(cell, factors), cell])).values()];
}

function neighbours(cell: Cell, factors: readonly Factor[]): readonly Cell[] {
  return factors.flatMap(({ id, levels }) =>
    levels.filter((level) => level !== cell[id]).map((level) => ({ ...cell, [id]: level })),
  );
}

function keyOf(cell: Cell, factors: readonly Factor[]): string {
  return JSON.stringify(factors.map(({ id }) => cell[id]));
}

function leastOf(
  sets: Iterable<readonly Candidate[]>,
  isEnough: (added: readonly Cell[]) => boolean,
): readonly Candidate[] | null {
  let best: readonly Candidate[] | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const set of sets) {
    const changes = set.reduce((sum, candidate) => sum + candidate.changes, 0);
    if (changes >= least || !isEnough(set.map(({ cell }) => cell))) continue;
    best = set;
    least = changes;
  }
  return best;
}

function* subsets<T>(items: readonly T[], size: number, from = 0): Generator<readonly T[]> {
  if (size === 0) {
    yield [];
    return;
  }
  for (let at = from; at <= items.length - size; at += 1) {
    const item = items[at] as T;
    for (const rest of subsets(items, size - 1, at + 1)) yield [item, ...rest];
  }
}

function combinations(count: number, size: number): number {
  let product = 1;
  for (let at = 0; at < size; at += 1) product = (product * (count - at)) / (at + 1);
  return product;
}

function oneByOne(
  candidates: readonly Candidate[],
  trial: (added: readonly Cell[]) => Geometry,
  isMet: (geometry: Geometry) => boolean,
  progress: (geometry: Geometry) => number,
): readonly Cell[] | null {
  const added: Cell[] = [];
  while (added.length < mostRigs) {
    let best: Cell | null = null;
    let furthest = Number.NEGATIVE_INFINITY;
    for (const { cell } of candidates) {
      if (added.includes(cell)) continue;
      const reached = progress(trial([...added, cell]));
      if (reached <= furthest) continue;
      best = cell;
      furthest = reached;
    }
    if (best === null) return null;
    added.push(best);
    if (isMet(trial(added))) return added;
  }
  return null;
}
