import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { designRank } from '../../../../src/campaign/design/design-rank.ts';
import { findAddition } from '../../../../src/campaign/design/find-addition.ts';
import {
  type Cell,
  changesBetween,
  type Geometry,
  geometryOf,
  isSeparable,
} from '../../../../src/campaign/design/geometry.ts';
import { independentColumns } from '../../../../src/stats/least-squares.ts';
import { campaignOfRows, fullFactorial } from '../../../setup/design.ts';

const noProgress = (): number => 0;

function cellOf(row: string): Cell {
  return Object.fromEntries([...row].map((level, at) => ['abcdefgh'[at] ?? '', level]));
}

/** Every subset of `items` with `size` members, by counting in binary. */
function subsets<T>(items: readonly T[], size: number): readonly (readonly T[])[] {
  return Array.from({ length: 2 ** items.length }, (_, mask) =>
    items.filter((_, at) => (mask >> at) & 1),
  ).filter(({ length }) => length === size);
}

describe('findAddition', () => {
  it('finds the least and nearest set of cells of any design of three factors, as a search of all of them', () => {
    const all = fullFactorial(3);
    const rows = fc.uniqueArray(fc.constantFrom(...all), { minLength: 1, maxLength: 7 });
    const term = fc.constantFrom(['a'], ['b'], ['a', 'b'], ['b', 'c']);
    const withPairs = fc.boolean();
    fc.assert(
      fc.property(rows, term, withPairs, (chosen, wanted, hasPairs) => {
        const { factors } = campaignOfRows(chosen);
        const isMet = (geometry: Geometry): boolean =>
          isSeparable(
            wanted,
            hasPairs ? [...geometry.mains, ...geometry.pairs] : geometry.mains,
            geometry,
          );
        const cells = chosen.map(cellOf);
        fc.pre(!isMet(geometryOf(factors, cells)));
        const free = all.filter((row) => !chosen.includes(row)).map(cellOf);
        const changes = (set: readonly Cell[]): number =>
          set.reduce(
            (sum, cell) => sum + Math.min(...cells.map((other) => changesBetween(cell, other))),
            0,
          );
        const sizes = free.map((_, at) => at + 1);
        const enough = sizes
          .map((size) =>
            subsets(free, size).filter((set) => isMet(geometryOf(factors, [...cells, ...set]))),
          )
          .find((sets) => sets.length > 0);
        const found = findAddition(factors, cells, isMet, noProgress);
        if (enough === undefined) {
          expect(found).toBeNull();
          return;
        }
        expect(found?.length).toBe(enough[0]?.length);
        expect(changes(found ?? [])).toBe(Math.min(...enough.map(changes)));
        expect(isMet(geometryOf(factors, [...cells, ...(found ?? [])]))).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  it('goes rig by rig where there are too many sets to try', () => {
    const { factors } = campaignOfRows(['------', '++++++']);
    const cells = ['------', '++++++'].map(cellOf);
    const separable = (geometry: Geometry): number =>
      geometry.mains.filter((term) => isSeparable(term, geometry.mains, geometry)).length;
    const progress = (geometry: Geometry): number =>
      100 * separable(geometry) + geometry.cells.length;
    const found = findAddition(
      factors,
      cells,
      (geometry) => separable(geometry) === 6,
      (geometry) => progress(geometry),
    );
    // Seven unknowns, the mean among them, need seven rigs.
    expect(found?.length).toBeGreaterThanOrEqual(5);
    expect(separable(geometryOf(factors, [...cells, ...(found ?? [])]))).toBe(6);
  });

  it('looks near the rigs where there are too many combinations to list', () => {
    const many = Array.from({ length: 20 }, (_, at) => String(at)) as [string, ...string[]];
    const factors = [...'abcdefgh'].map((id) => ({ id, title: id, levels: many }));
    const base = Object.fromEntries(factors.map(({ id }) => [id, '0']));
    const found = findAddition(
      factors,
      [base],
      (geometry) => geometry.cells.some((cell) => cell['h'] === '19'),
      noProgress,
    );
    expect(found).toEqual([{ ...base, h: '19' }]);
  });
});

describe('designRank', () => {
  it('is that of the singular values', () => {
    const column = (rows: number): fc.Arbitrary<number[]> =>
      fc.array(fc.constantFrom(-1, 0, 1), { minLength: rows, maxLength: rows });
    const design = fc
      .integer({ min: 1, max: 9 })
      .chain((rows) => fc.array(column(rows), { minLength: 1, maxLength: 9 }));
    fc.assert(
      fc.property(design, (values) => {
        const columns = values.map((one, at) => ({ name: String(at), values: one }));
        expect(designRank(columns)).toBe(independentColumns(columns).kept.length);
      }),
    );
  });
});
