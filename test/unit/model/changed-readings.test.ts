import { describe, expect, it } from 'vitest';
import { changedReadings } from '../../../src/model/changed-readings.ts';
import type { Inventory, Item, Reading } from '../../../src/model/inventory.ts';

const at = (value: string | number, unit: string | null = null): Reading => ({
  ...{ value, unit, source: '/proc/somewhere' },
});
const absent = (reason: 'not-permitted' | 'unreadable' | 'no-such-file'): Reading => ({
  ...{ value: null, absent: reason, source: '/proc/somewhere' },
});

/** An inventory of an invented rig: kernel, memory, and its modules. */
function rig(
  os: Item,
  memory: Item,
  modules: readonly Item[] = [],
  failed: readonly string[] = [],
): Inventory {
  return {
    schema: 'steadyrig/inventory/1',
    takenAt: '2026-01-31T20:15:00.000Z',
    seconds: 0,
    collectors: ['os', 'memory'].map((name) => ({
      ...{ name, seconds: 0, failure: failed.includes(name) ? 'took too long' : null },
    })),
    sections: {
      os: { readings: os, items: {} },
      memory: { readings: memory, items: { modules } },
    },
  };
}

describe('changedReadings', () => {
  it('tells what differs, with its unit, and what came or went', () => {
    const before = rig({ kernel: at('6.1.0') }, { total: at(16, 'By') }, [{ size: at(8, 'By') }]);
    const after = rig({ kernel: at('6.1.1') }, { total: at(8, 'By') }, []);
    expect(changedReadings(before, after)).toEqual([
      { path: 'os.kernel', from: '6.1.0', to: '6.1.1' },
      { path: 'memory.total', from: '16 By', to: '8 By' },
      { path: 'memory.modules.0.size', from: '8 By', to: null },
    ]);
    expect(changedReadings(before, before)).toEqual([]);
  });

  it('passes over what moves by itself and what could not be read both times', () => {
    const before = rig({ kernel: at('6.1.0') }, { available: at(5, 'By'), total: at(16, 'By') });
    for (const reason of ['not-permitted', 'unreadable'] as const) {
      const after = rig(
        { kernel: absent(reason) },
        { available: at(9, 'By'), total: at(16, 'By') },
      );
      expect(changedReadings(before, after)).toEqual([]);
    }
    const gone = rig({ kernel: absent('no-such-file') }, { total: at(16, 'By') });
    expect(changedReadings(before, gone)).toMatchObject([{ path: 'os.kernel', to: null }]);
  });

  it('takes nothing from a collector that failed', () => {
    const before = rig({}, { total: at(16, 'By') }, [{ size: at(8, 'By') }]);
    expect(changedReadings(before, rig({}, {}, [], ['memory']))).toEqual([]);
    expect(changedReadings(rig({}, {}, [], ['memory']), before)).toEqual([]);
  });

  it('measures from what was accepted before', () => {
    const before = rig({ kernel: at('6.1.0') }, {});
    const accepted = [{ path: 'os.kernel', from: '6.1.0', to: '6.1.1' }];
    expect(changedReadings(before, rig({ kernel: at('6.1.1') }, {}), accepted)).toEqual([]);
    expect(changedReadings(before, before, accepted)).toEqual([
      { path: 'os.kernel', from: '6.1.1', to: '6.1.0' },
    ]);
  });
});
