import { describe, expect, it } from 'vitest';
import { checkExpectations } from '../../../src/campaign/check-expectations.ts';
import { parseExpectation } from '../../../src/campaign/expectation.ts';
import type { Inventory, Reading } from '../../../src/model/inventory.ts';
import { sampleInventory } from '../../setup/samples.ts';
import { unwrap } from '../../setup/unwrap.ts';

const present = (value: string | number, unit: string | null = null): Reading => ({
  ...{ value, unit },
  source: '/invented',
});

const gibibytes = (count: number): Reading => present(count * 2 ** 30, 'By');

function kindOf(path: string, text: string, inventory: Inventory): string | undefined {
  const expected = unwrap(parseExpectation(path, text));
  return checkExpectations({ expect: [expected] }, inventory)[0]?.kind;
}

function withMemory(total: Reading, sizes: readonly Reading[] = []): Inventory {
  const modules = sizes.map((size) => ({ size }));
  return {
    ...sampleInventory,
    sections: { memory: { readings: { total }, items: { modules } } },
  };
}

describe('what a campaign expects of an inventory', () => {
  it.each([
    [15.5, 'expected'],
    [13.2, 'expected'],
    [16, 'expected'],
    [7.7, 'unexpected'],
    [12, 'unexpected'],
    [31.2, 'unexpected'],
  ])('takes %s GiB usable for 16 GiB fitted: %s', (usable, kind) => {
    expect(kindOf('memory.total', '16 GiB', withMemory(gibibytes(usable)))).toBe(kind);
  });

  it('wants every item of a list that tells to fit', () => {
    const modules = (...sizes: Reading[]) => withMemory(gibibytes(15.5), sizes);
    const absent: Reading = { value: null, absent: 'not-reported', source: '/invented' };
    const kind = (inventory: Inventory) => kindOf('memory.modules.size', '8 GiB', inventory);
    expect(kind(modules(gibibytes(8), gibibytes(8), absent))).toBe('expected');
    expect(kind(modules(gibibytes(8), gibibytes(4)))).toBe('unexpected');
    expect(kind(modules(absent))).toBe('not-visible');
    expect(kind(modules())).toBe('not-visible');
  });

  it('allows for the rounding of what is printed on parts, no more', () => {
    const disk = (bytes: number): Inventory => ({
      ...sampleInventory,
      sections: {
        storage: { readings: {}, items: { disks: [{ size: present(bytes, 'By') }] } },
      },
    });
    expect(kindOf('storage.disks.size', '960 GB', disk(960_197_124_096))).toBe('expected');
    expect(kindOf('storage.disks.size', '1 TB', disk(960_197_124_096))).toBe('unexpected');
  });

  it('compares names without a look at case and blanks', () => {
    const named = (value: string): Inventory => ({
      ...sampleInventory,
      sections: { board: { readings: { name: present(value) }, items: {} } },
    });
    expect(kindOf('board.name', 'Example  board one', named('EXAMPLE BOARD ONE'))).toBe('expected');
    expect(kindOf('board.name', 'Example Board One', named('Example Board One B'))).toBe(
      'unexpected',
    );
    expect(kindOf('board.name', 'Example Board One', sampleInventory)).toBe('not-visible');
  });
});
