import { describe, expect, it } from 'vitest';
import { catalogEntry, inventoryCatalog } from '../../../../src/model/inventory-catalog.ts';
import { byTelling } from '../../../../src/model/rules/by-telling.ts';
import { isDeclared } from '../../../../src/model/rules/is-declared.ts';
import { readingRule, ruledPaths } from '../../../../src/model/rules/reading-rules.ts';

const catalogPaths = Object.entries(inventoryCatalog).flatMap(([section, { readings, items }]) => [
  ...Object.keys(readings).map((name) => `${section}.${name}`),
  ...Object.entries(items).flatMap(([list, { fields }]) =>
    Object.keys(fields).map((field) => `${section}.${list}.${field}`),
  ),
]);

describe('the rules of readings', () => {
  it('have one for every reading of the catalog, and none for those that move by themselves', () => {
    const wrong = catalogPaths.filter(
      (path) => (readingRule(path) === null) !== catalogEntry(path)?.moves,
    );
    expect(wrong).toEqual([]);
    expect(catalogPaths.length).toBeGreaterThan(120);
  });

  it('name nothing that the catalog does not have, and nothing twice', () => {
    const others = /^(levels|program|suite|tool|meter|inventory|conditions)(\.|$)/;
    const lists = Object.entries(inventoryCatalog).flatMap(([section, { items }]) =>
      Object.keys(items).map((list) => `${section}.${list}`),
    );
    const unknown = ruledPaths.filter(
      (path) => catalogEntry(path) === null && !lists.includes(path) && !others.test(path),
    );
    expect(unknown).toEqual([]);
    expect(new Set(ruledPaths).size).toBe(ruledPaths.length);
  });

  // Each of these is known to move figures: common practice, no source.
  it.each([
    'firmware.version',
    'cpu.microcode',
    'os.kernel',
    'graphics.devices.driver',
    'graphics.devices.driverVersion',
    'memory.modules.configuredSpeed',
    'memory.modulesFound',
    'memory.modules.locator',
    'memory.modules.bank',
    'pcie.devices.currentWidth',
    'pcie.devices.pathWidth',
    'power.limits.limit',
    'graphics.devices.powerLimit',
    'frequency.governors',
  ])('never pass over %s, and tell it among the first', (path) => {
    expect(catalogEntry(path)?.moves).toBe(false);
    expect(readingRule(path)?.telling).toBe('what');
  });

  it.each([
    'memory.available',
    'memory.swapFree',
    'frequency.policies.lowestNow',
    'frequency.policies.highestNow',
    'power.supplies.charge',
    'pcie.devices.currentSpeed',
  ])('pass over %s, which moves by itself', (path) => {
    expect(readingRule(path)).toBeNull();
  });

  it('know items of lists by their place, and programs and factors by any name', () => {
    expect(readingRule('memory.modules.0.size')).toBe(readingRule('memory.modules.size'));
    expect(readingRule('program.xz')?.part).toBe('programs');
    expect(readingRule('levels.board')?.part).toBe('factors');
    expect(readingRule('memory.unheard')).toBeNull();
  });
});

describe('isDeclared', () => {
  it('covers what follows from a part, never what somebody chose', () => {
    expect(isDeclared('memory.modules.size', ['ram-kit'])).toBe(true);
    expect(isDeclared('firmware.version', ['board'])).toBe(true);
    expect(isDeclared('firmware.version', ['memory'])).toBe(false);
    for (const path of ['frequency.governors', 'os.kernel', 'graphics.devices.driverVersion']) {
      expect(isDeclared(path, ['board', 'processor', 'memory', 'graphics', 'storage'])).toBe(false);
    }
    expect(isDeclared('graphics.devices.driverVersion', ['graphics-driver'])).toBe(true);
    expect(isDeclared('os.kernel', ['os.kernel'])).toBe(true);
    expect(isDeclared('cpu.model', [])).toBe(false);
  });
});

describe('byTelling', () => {
  it('puts parts with telling differences first, each with its most telling one on top', () => {
    const paths = ['cpu.flags', 'memory.slots', 'memory.total', 'firmware.version', 'odd.path'];
    const found = byTelling(paths.map((path) => ({ path })));
    expect(
      found.map(({ part, differences }) => [part, differences.map(({ path }) => path)]),
    ).toEqual([
      ['memory', ['memory.total', 'memory.slots']],
      ['firmware', ['firmware.version']],
      ['processor', ['cpu.flags']],
      ['measuring', ['odd.path']],
    ]);
  });
});
