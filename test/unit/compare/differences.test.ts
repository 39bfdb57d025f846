import { describe, expect, it } from 'vitest';
import { compareRigs } from '../../../src/compare/compare-rigs.ts';
import type { Comparison } from '../../../src/model/comparison.ts';
import type { SittingFigures } from '../../../src/model/comparison-request.ts';
import type { Inventory, Item, Reading, ReadingValue } from '../../../src/model/inventory.ts';
import {
  sampleFigures,
  sampleMetric,
  sampleRequest,
  sampleWorkloadFigures,
} from '../../setup/figures.ts';
import { sampleInventory } from '../../setup/samples.ts';
import { unwrap } from '../../setup/unwrap.ts';

const read = (value: ReadingValue, unit: string | null = null): Reading => ({
  value,
  unit,
  source: 'test',
});
const absent: Reading = { value: null, absent: 'not-permitted', source: 'test' };

interface Box {
  readonly readings?: Readonly<Record<string, Readonly<Record<string, Reading>>>>;
  readonly lists?: Readonly<Record<string, readonly Item[]>>;
}

/** An inventory of these readings by section, and lists by `section.list`. */
function inventory({ readings = {}, lists = {} }: Box): Inventory {
  const sections: Record<
    string,
    { readings: Record<string, Reading>; items: Record<string, readonly Item[]> }
  > = {};
  for (const [name, own] of Object.entries(readings))
    sections[name] = { readings: { ...own }, items: {} };
  for (const [path, items] of Object.entries(lists)) {
    const [section = '', list = ''] = path.split('.');
    const own = sections[section] ?? { readings: {}, items: {} };
    sections[section] = { ...own, items: { ...own.items, [list]: items } };
  }
  return { ...sampleInventory, sections };
}

function sitting(label: string, hour: number, changes: Partial<SittingFigures>): SittingFigures {
  return sampleFigures(label, hour, [sampleWorkloadFigures([sampleMetric([1, 1.01])])], changes);
}

function compared(own: Partial<SittingFigures>, other: Partial<SittingFigures>): Comparison {
  return unwrap(
    compareRigs(
      sampleRequest({ label: 'bench-a', sittings: [sitting('bench-a', 0, own)] }, [
        { label: 'bench-b', sittings: [sitting('bench-b', 1, other)] },
      ]),
    ),
  );
}

/** `path: from → to`, with ! for what was not declared. */
function told({ differences }: Comparison): string[] {
  return differences.map(
    ({ path, from, to, absent: why, declared }) =>
      `${declared ? '' : '!'}${path}: ${from ?? why} → ${to ?? why}`,
  );
}

const box = (own: Box): Partial<SittingFigures> => ({ inventory: inventory(own) });
const stick = (gibibytes: number, slot: string): Item => ({
  size: read(gibibytes * 2 ** 30, 'By'),
  locator: read(slot),
});

describe('differences between rigs', () => {
  it.each([
    ['os', 'kernel', read('6.1.0'), read('6.1.1')],
    ['firmware', 'version', read('F2'), read('F3')],
    ['cpu', 'microcode', read('0x10'), read('0x12')],
    ['frequency', 'governors', read(['powersave']), read(['performance'])],
    ['power', 'mains', read(true), read(false)],
    ['tools', 'node', read('20.20.1'), read('20.20.2')],
  ])('tell %s.%s and call the comparison confounded', (section, name, from, to) => {
    const found = compared(
      box({ readings: { [section]: { [name]: from } } }),
      box({ readings: { [section]: { [name]: to } } }),
    );
    expect(found.differences.map(({ path, declared }) => [path, declared])).toEqual([
      [`${section}.${name}`, false],
    ]);
    expect(found.flags).toContain('confounded');
  });

  it('leave out what moves by itself', () => {
    const free = (bytes: number): Partial<SittingFigures> =>
      box({
        readings: { memory: { available: read(bytes, 'By') } },
        lists: { 'frequency.policies': [{ lowestNow: read(bytes, 'Hz') }] },
      });
    expect(compared(free(1e9), free(2e9)).differences).toEqual([]);
  });

  it('tell readings that a side lacks, with the reason, and nothing where both lack them', () => {
    const own = box({ readings: { memory: { slots: read(4, '1') } } });
    const other = box({ readings: { memory: { slots: absent } } });
    expect(told(compared(own, other))).toEqual(['!memory.slots: 4 → not-permitted']);
    expect(told(compared(box({ readings: { memory: {} } }), own))).toEqual([
      '!memory.slots: not recorded → 4',
    ]);
    expect(told(compared(other, box({ readings: { memory: {} } })))).toEqual([]);
  });

  it('take lists in any order, and count what is alike', () => {
    const modules = (...items: Item[]): Partial<SittingFigures> =>
      box({ lists: { 'memory.modules': items } });
    const two = modules(stick(8, 'A1'), stick(8, 'A2'));
    expect(told(compared(two, modules(stick(8, 'A2'), stick(8, 'A1'))))).toEqual([]);
    expect(told(compared(two, modules(stick(16, 'A1'), stick(8, 'A2'))))).toEqual([
      '!memory.modules.size: 2 x 8 GiB → 16 GiB; 8 GiB',
    ]);
  });

  it('of long lists tell only what the other lacks, by the names of their items', () => {
    const states = (changed: string): Partial<SittingFigures> =>
      box({
        lists: {
          'mitigations.vulnerabilities': ['a', 'b', 'c', 'd', 'e'].map((name) => ({
            name: read(name),
            state: read(name === 'c' ? changed : 'Not affected'),
          })),
        },
      });
    expect(told(compared(states('Vulnerable'), states('Mitigated')))).toEqual([
      '!mitigations.vulnerabilities.state: c: Vulnerable → c: Mitigated',
    ]);
  });

  it('show exact values where rounding makes them look alike', () => {
    const total = (bytes: number): Partial<SittingFigures> =>
      box({ readings: { memory: { swapTotal: read(bytes, 'By') } } });
    const [line] = told(compared(total(8_589_934_592), total(8_589_930_496)));
    expect(line).toContain('8589934592');
  });

  it('are declared when they follow from a factor whose levels differ, never settings', () => {
    const own = {
      levels: { memory: '2x8 GiB', graphics: 'Example Graphics G1' },
      ...box({
        readings: {
          memory: { total: read(16e9, 'By'), swappiness: read(60, '1') },
          frequency: { governors: read(['performance']) },
        },
        lists: {
          'graphics.devices': [{ name: read('Example Graphics G1'), driverVersion: read('1') }],
        },
      }),
    };
    const other = {
      levels: { memory: '4x8 GiB', graphics: 'Example Graphics G2' },
      ...box({
        readings: {
          memory: { total: read(32e9, 'By'), swappiness: read(10, '1') },
          frequency: { governors: read(['powersave']) },
        },
        lists: {
          'graphics.devices': [{ name: read('Example Graphics G2'), driverVersion: read('2') }],
        },
      }),
    };
    const found = compared(own, other).differences;
    expect(found.filter(({ declared }) => declared).map(({ path }) => path)).toEqual([
      'levels.memory',
      'levels.graphics',
      'memory.total',
      'graphics.devices.name',
    ]);
    expect(found.filter(({ declared }) => !declared).map(({ path }) => path)).toEqual([
      'graphics.devices.driverVersion',
      'frequency.governors',
      'memory.swappiness',
    ]);
    const same = compared({ ...own, levels: {} }, { ...other, levels: {} });
    expect(same.differences.some(({ declared }) => declared)).toBe(false);
  });

  it('do not confound when all are declared', () => {
    const own = {
      levels: { 'memory-kit': 'A' },
      ...box({ readings: { memory: { total: read(2 ** 33, 'By') } } }),
    };
    const other = {
      levels: { 'memory-kit': 'B' },
      ...box({ readings: { memory: { total: read(2 ** 34, 'By') } } }),
    };
    const found = compared(own, other);
    expect(found.differences).toHaveLength(2);
    expect(found.flags).not.toContain('confounded');
  });

  it('are not declared by a level that only one side states', () => {
    const own = {
      levels: { memory: 'A' },
      ...box({ readings: { memory: { total: read(2 ** 33, 'By') } } }),
    };
    const found = compared(own, box({ readings: { memory: { total: read(2 ** 34, 'By') } } }));
    expect(told(found)).toEqual([
      '!levels.memory: A → not recorded',
      '!memory.total: 8 GiB → 16 GiB',
    ]);
    expect(found.flags).toContain('confounded');
  });

  it('tell versions, meters and rooms; a room only beyond 3 K', () => {
    const found = compared(
      { ambientCelsius: 20 },
      { ambientCelsius: 23.5, toolVersion: '0.2.0', meter: 'portable' },
    );
    expect(told(found)).toEqual([
      '!conditions.ambient: 20 °C → 23.5 °C',
      '!tool.version: 0.1.0 → 0.2.0',
      '!meter: kernel → portable',
    ]);
    expect(compared({ ambientCelsius: 20 }, { ambientCelsius: 22 }).differences).toEqual([]);
  });

  it('tell once that a side has no inventory', () => {
    const found = compared(box({ readings: { os: { kernel: read('6.1.0') } } }), {});
    expect(told(found)).toEqual(['!inventory: taken → imported']);
  });
});

describe('changes within a side', () => {
  it('are told in the order of time, with a flag, and compared with the other side', () => {
    const kernel = (version: string): Partial<SittingFigures> =>
      box({ readings: { os: { kernel: read(version) } } });
    const found = unwrap(
      compareRigs(
        sampleRequest(
          {
            label: 'bench-a',
            sittings: [sitting('bench-a', 5, kernel('6.2')), sitting('bench-a', 0, kernel('6.1'))],
          },
          [{ label: 'bench-b', sittings: [sitting('bench-b', 1, kernel('6.1'))] }],
        ),
      ),
    );
    expect(found.changes).toEqual([
      { label: 'bench-a', path: 'os.kernel', values: ['6.1', '6.2'] },
    ]);
    expect(found.flags).toContain('side-changed');
    expect(told(found)).toEqual(['!os.kernel: 6.1 or 6.2 → 6.1']);
  });
});
