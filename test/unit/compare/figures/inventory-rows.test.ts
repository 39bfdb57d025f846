import { describe, expect, it } from 'vitest';
import { compareRigs } from '../../../../src/compare/compare-rigs.ts';
import { inventoryRows } from '../../../../src/compare/figures/inventory-rows.ts';
import type { ComparedRig, SittingFigures } from '../../../../src/model/comparison-request.ts';
import type { Inventory, Reading, ReadingValue } from '../../../../src/model/inventory.ts';
import type { InventoryRow } from '../../../../src/model/report.ts';
import {
  sampleFigures,
  sampleMetric,
  sampleRequest,
  sampleWorkloadFigures,
} from '../../../setup/figures.ts';
import { sampleInventory } from '../../../setup/samples.ts';
import { unwrap } from '../../../setup/unwrap.ts';

const read = (value: ReadingValue, unit: string | null = null): Reading => ({
  value,
  unit,
  source: 'test',
});

function box(sections: Readonly<Record<string, Readonly<Record<string, Reading>>>>): Inventory {
  return {
    ...sampleInventory,
    sections: Object.fromEntries(
      Object.entries(sections).map(([name, readings]) => [name, { readings, items: {} }]),
    ),
  };
}

function rig(label: string, sittings: readonly Partial<SittingFigures>[]): ComparedRig {
  const figures = [sampleWorkloadFigures([sampleMetric([1, 1.01])])];
  return {
    label,
    sittings: sittings.map((changes, hour) => sampleFigures(label, hour, figures, changes)),
  };
}

/** Of rigs as they are compared, by path. */
function rowsOf(...rigs: readonly ComparedRig[]): ReadonlyMap<string, InventoryRow> {
  const [baseline, ...candidates] = rigs;
  if (baseline === undefined) throw new Error('no rig');
  const { differences } = unwrap(compareRigs(sampleRequest(baseline, candidates)));
  return new Map(inventoryRows(rigs, differences).map((row) => [row.path, row]));
}

describe('what is in every rig', () => {
  it('tells what is alike, what differs as declared, and what nobody declared', () => {
    const bench = (label: string, board: string, kernel: string): ComparedRig =>
      rig(label, [
        {
          levels: { board },
          inventory: box({
            board: { name: read(`Example Quay ${board}`) },
            os: { kernel: read(kernel) },
            cpu: { model: read('Example Silicon E4') },
          }),
        },
      ]);
    const rows = rowsOf(bench('bench-a', 'Q1', '6.1.0'), bench('bench-b', 'Q2', '6.1.4'));
    const facts = (path: string): unknown[] => {
      const row = rows.get(path);
      return [row?.values, row?.differs, row?.declared];
    };
    expect(facts('levels.board')).toEqual([['Q1', 'Q2'], true, true]);
    expect(facts('board.name')).toEqual([['Example Quay Q1', 'Example Quay Q2'], true, true]);
    expect(facts('os.kernel')).toEqual([['6.1.0', '6.1.4'], true, false]);
    expect(facts('cpu.model')).toEqual([
      ['Example Silicon E4', 'Example Silicon E4'],
      false,
      false,
    ]);
    expect(rows.get('levels.board')).toMatchObject({ title: 'factor board', part: 'Factors' });
    expect(rows.get('tool.version')?.title).toBe('steadyrig');
  });

  it('says both values of a rig that was not the same in all its sittings, and never calls that declared', () => {
    const own = (bios: string): Partial<SittingFigures> => ({
      levels: { board: 'Q1' },
      inventory: box({ firmware: { version: read(bios) } }),
    });
    const other = { levels: { board: 'Q2' }, inventory: box({ firmware: { version: read('3') } }) };
    const row = rowsOf(rig('bench-a', [own('1'), own('2')]), rig('bench-b', [other])).get(
      'firmware.version',
    );
    expect(row).toMatchObject({ values: ['1 or 2', '3'], differs: true, declared: false });
  });

  it('leaves null what a rig lacks, and does not hide a difference behind rounding', () => {
    const memory = (bytes: number): Partial<SittingFigures> => ({
      inventory: box({ memory: { total: read(bytes, 'By') } }),
    });
    const near = rowsOf(
      rig('bench-a', [memory(2 ** 34)]),
      rig('bench-b', [memory(2 ** 34 + 2 ** 20)]),
    );
    expect(near.get('memory.total')?.differs).toBe(false);
    const far = rowsOf(
      rig('bench-a', [memory(2 ** 34)]),
      rig('bench-b', [memory(2 ** 34 + 2 ** 27)]),
    );
    const [one, two] = far.get('memory.total')?.values ?? [];
    expect(far.get('memory.total')?.differs).toBe(true);
    expect(one).not.toBe(two);
    const lacks = rowsOf(
      rig('bench-a', [memory(2 ** 34)]),
      rig('bench-b', [{ inventory: box({}) }]),
    );
    expect(lacks.get('memory.total')).toMatchObject({ values: ['16 GiB', null], differs: true });
  });

  it('takes no difference from a rig whose figures were imported without an inventory', () => {
    const rows = rowsOf(
      rig('bench-a', [{ inventory: box({ os: { kernel: read('6.1.0') } }) }]),
      rig('bench-b', [{ inventory: box({ os: { kernel: read('6.1.0') } }) }]),
      rig('bench-c', [{ inventory: null, meter: null }]),
    );
    expect(rows.get('os.kernel')).toMatchObject({
      values: ['6.1.0', '6.1.0', null],
      differs: false,
    });
  });
});
