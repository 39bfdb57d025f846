import { describe, expect, it } from 'vitest';
import { compareInventories } from '../../../src/compare/inventory-differences.ts';
import type { Inventory, Item, Reading } from '../../../src/model/inventory.ts';
import { renderInventoryDifferences } from '../../../src/report/inventory-differences-page.ts';
import { sampleInventory } from '../../setup/samples.ts';

const at = (value: string | number, unit: string | null = null): Reading => ({
  ...{ value, unit, source: 'test' },
});
const absent = (reason: 'not-permitted' | 'no-such-file'): Reading => ({
  ...{ value: null, absent: reason, source: 'test' },
});

interface Rig {
  readonly kernel?: Reading;
  readonly free?: number;
  readonly modules?: readonly Item[];
  readonly firmware?: string;
  readonly failed?: readonly string[];
}

/** An invented rig. */
function rig({
  kernel = at('6.1.0'),
  free = 5,
  modules = [],
  firmware = 'F2',
  failed = [],
}: Rig): Inventory {
  return {
    ...sampleInventory,
    collectors: failed.map((name) => ({ name, seconds: 0, failure: 'took too long' })),
    sections: {
      memory: { readings: { available: at(free, 'By'), slots: at(4, '1') }, items: { modules } },
      firmware: { readings: { version: at(firmware) }, items: {} },
      os: { readings: { kernel }, items: {} },
    },
  };
}

const stick = (gibibytes: number, speed: number): Item => ({
  size: at(gibibytes * 2 ** 30, 'By'),
  configuredSpeed: at(speed, '{transfers}/s'),
});

describe('compareInventories', () => {
  it('takes usable memory for the same within what firmware sets aside, and not when a module is gone', () => {
    const withTotal = (bytes: number): Inventory => {
      const base = rig({});
      const memory = { readings: { total: at(bytes, 'By') }, items: {} };
      return { ...base, sections: { ...base.sections, memory } };
    };
    const total = 16 * 2 ** 30;
    const paths = (bytes: number): string[] =>
      compareInventories(withTotal(total), withTotal(bytes)).parts.flatMap(({ differences }) =>
        differences.map(({ path }) => path),
      );
    expect(paths(total - 3 * 2 ** 20)).toEqual([]);
    expect(paths(total - 64 * 2 ** 20)).toEqual([]);
    expect(paths(total - 65 * 2 ** 20)).toEqual(['memory.total']);
    expect(paths(total / 2)).toEqual(['memory.total']);
  });

  it('does so for each node of the memory by its name', () => {
    const withNodes = (nodes: Readonly<Record<string, number | null>>): Inventory => {
      const base = rig({});
      const items = Object.entries(nodes).map(
        ([name, bytes]): Item => ({
          name: at(name),
          memory: bytes === null ? absent('no-such-file') : at(bytes, 'By'),
        }),
      );
      const topology = { readings: {}, items: { nodes: items } };
      return { ...base, sections: { ...base.sections, topology } };
    };
    const gibibyte = 2 ** 30;
    const whole = { node0: 8 * gibibyte, node1: 16 * gibibyte };
    const paths = (nodes: Readonly<Record<string, number | null>>): string[] =>
      compareInventories(withNodes(whole), withNodes(nodes)).parts.flatMap(({ differences }) =>
        differences.map(({ path }) => path),
      );
    expect(paths({ ...whole, node1: whole.node1 - 3 * 2 ** 20 })).toEqual([]);
    expect(paths({ ...whole, node1: whole.node0 })).toEqual(['topology.nodes.memory']);
    expect(paths({ ...whole, node1: null })).toEqual(['topology.nodes.memory']);
    expect(paths({ node1: whole.node0, node2: whole.node1 })).toContain('topology.nodes.memory');
  });

  it('tells before and after by part, and nothing of what moves by itself', () => {
    const before = rig({ modules: [stick(8, 2.4e9), stick(8, 2.4e9)] });
    const after = rig({ free: 9, firmware: 'F3', modules: [stick(16, 2.4e9), stick(16, 3.2e9)] });
    const found = compareInventories(before, after);
    expect(found.parts).toEqual([
      {
        part: 'memory',
        differences: [
          { path: 'memory.modules.size', from: '2 x 8 GiB', to: '2 x 16 GiB' },
          {
            path: 'memory.modules.configuredSpeed',
            from: '2 x 2400 MT/s',
            to: '2400 MT/s; 3200 MT/s',
          },
        ],
      },
      { part: 'firmware', differences: [{ path: 'firmware.version', from: 'F2', to: 'F3' }] },
    ]);
    expect(found.unread).toEqual([]);
    expect(found.alike).toBe(2);
    expect(
      compareInventories(before, rig({ free: 1, modules: [stick(8, 2.4e9), stick(8, 2.4e9)] }))
        .parts,
    ).toEqual([]);
  });

  it('takes what could not be read for unknown, what is gone for a change', () => {
    const unread = compareInventories(rig({}), rig({ kernel: absent('not-permitted') }));
    expect(unread.parts).toEqual([]);
    expect(unread.unread).toEqual([{ path: 'os.kernel', reason: 'not permitted' }]);
    const gone = compareInventories(rig({}), rig({ kernel: absent('no-such-file') }));
    expect(gone.parts[0]?.differences).toEqual([{ path: 'os.kernel', from: '6.1.0', to: null }]);
    const failed = compareInventories(rig({}), rig({ firmware: 'F3', failed: ['firmware'] }));
    expect(failed.parts).toEqual([]);
    expect(failed.unread).toEqual([{ path: 'firmware.version', reason: 'its collector failed' }]);
  });

  it('does not say that memory changed where its modules could be read at one look only', () => {
    const named = [{ size: at(8, 'By') }];
    const hidden = [{ size: absent('not-permitted') }];
    expect(compareInventories(rig({ modules: named }), rig({ modules: hidden })).parts).toEqual([]);
  });
});

describe('the page of what changed', () => {
  it('stays within 80 columns, and says what it cannot see', () => {
    const long = rig({ firmware: 'F3 '.repeat(60) });
    const page = renderInventoryDifferences(compareInventories(rig({}), long, 'some-sitting'));
    for (const line of page.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
    expect(page).toContain('1 difference since some-sitting');
    expect(page).toContain('version: F2 → F3');
    expect(page).toContain('software cannot see (paste');
    expect(renderInventoryDifferences(compareInventories(rig({}), rig({})))).toContain(
      'Nothing that could be read has changed',
    );
  });
});
