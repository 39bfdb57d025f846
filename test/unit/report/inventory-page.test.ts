import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Inventory, Reading } from '../../../src/model/inventory.ts';
import { inventoryCatalog } from '../../../src/model/inventory-catalog.ts';
import { readingText } from '../../../src/model/reading-text.ts';
import { renderInventoryPage } from '../../../src/report/inventory-page.ts';
import { labelledLines } from '../../../src/report/labelled-lines.ts';
import { expectGolden } from '../../setup/golden.ts';
import { inventoryOf, rigNames } from '../rig/rigs.ts';

describe('the page of an inventory', () => {
  it.each(rigNames)('reads as it was looked over (%s)', async (name) => {
    expectGolden(`inventory-${name}.txt`, `${renderInventoryPage(await inventoryOf(name))}\n`);
  });

  it('says what is not known and why, and names a collector that failed', async () => {
    const inventory = await inventoryOf('desktop-coretemp');
    const page = renderInventoryPage({
      ...inventory,
      collectors: inventory.collectors.map((collector) =>
        collector.name === 'memory'
          ? { ...collector, failure: 'did not finish in time' }
          : collector,
      ),
    });
    expect(page).toContain('Not read    memory (did not finish in time)');
    expect(page).toMatch(/^ {2}not read +did not finish in time$/m);
    expect(page).toMatch(/not known +preferred cores \(no such file\)/);
  });

  it('is short and whole where nothing at all is known', () => {
    const reading: Reading = { value: null, absent: 'not-permitted', source: 'x' };
    const sections = Object.fromEntries(
      Object.entries(inventoryCatalog).map(([name, catalog]) => [
        name,
        {
          readings: Object.fromEntries(Object.keys(catalog.readings).map((key) => [key, reading])),
          items: Object.fromEntries(Object.keys(catalog.items).map((key) => [key, []])),
        },
      ]),
    );
    const page = renderInventoryPage(emptyInventory(sections));
    for (const { title } of Object.values(inventoryCatalog)) expect(page).toContain(`\n${title}\n`);
    expect(page).not.toMatch(/undefined|null|NaN|\?/);
    expect(page.replace(/\s+/g, ' ').match(/\(not permitted\)/g)).toHaveLength(
      Object.keys(inventoryCatalog).length,
    );
  });

  it('fits 80 columns whatever the names are', async () => {
    const inventory = await inventoryOf('desktop-k10temp');
    fc.assert(
      fc.property(fc.string({ minLength: 1, maxLength: 200 }), (name) => {
        const page = renderInventoryPage(renamed(inventory, name.replace(/\p{C}/gu, '')));
        for (const line of page.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
      }),
    );
  });
});

function emptyInventory(sections: Inventory['sections']): Inventory {
  return {
    schema: 'steadyrig/inventory/1',
    takenAt: '2024-11-05T10:00:00.000Z',
    seconds: 0,
    collectors: [],
    sections,
  };
}

/** The same inventory with every text replaced. */
function renamed(inventory: Inventory, name: string): Inventory {
  return JSON.parse(JSON.stringify(inventory), (key, value) =>
    key === 'value' && typeof value === 'string' ? name : value,
  );
}

describe('readings for people', () => {
  it.each([
    [{ value: 32_654_908 * 1024, unit: 'By' }, '31.1 GiB'],
    [{ value: 1_048_576, unit: 'By' }, '1 MiB'],
    [{ value: 0, unit: 'By' }, '0 B'],
    [{ value: 4_991_007_000, unit: 'Hz' }, '4.99 GHz'],
    [{ value: 800e6, unit: 'Hz' }, '800 MHz'],
    [{ value: 999_999_000, unit: 'Hz' }, '1 GHz'],
    [{ value: 4.8e9, unit: '{transfers}/s' }, '4800 MT/s'],
    [{ value: 0.00244, unit: 's' }, '2.44 ms'],
    [{ value: 27.983872, unit: 's' }, '28 s'],
    [{ value: 125, unit: 'W' }, '125 W'],
    [{ value: 1.5, unit: '1' }, '1.5'],
    [{ value: ['a', 'b'], unit: null }, 'a, b'],
    [{ value: false, unit: null }, 'no'],
  ])('are scaled: %j', (reading, text) => {
    expect(readingText({ ...reading, source: 'x' })).toBe(text);
  });
});

describe('labelled lines', () => {
  it('keeps every character but the spaces it is broken at, within the width', () => {
    fc.assert(
      fc.property(
        fc.stringMatching(/^[a-z ]{0,200}$/),
        fc.integer({ min: 20, max: 80 }),
        (text, width) => {
          const lines = labelledLines(text, '  label  ', width);
          for (const line of lines) expect(line.length).toBeLessThanOrEqual(width);
          const bare = lines.map((line, index) => (index === 0 ? line.slice(9) : line)).join('');
          expect(bare.replaceAll(' ', '')).toBe(text.replaceAll(' ', ''));
        },
      ),
    );
  });

  it('indents what follows as far as the label is wide', () => {
    expect(labelledLines('one two three', 'x: ', 11)).toEqual(['x: one two', '   three']);
  });
});
