import { lstatSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inventoryCatalog } from '../../../src/model/inventory-catalog.ts';
import { admitSection } from '../../../src/rig/admit.ts';
import { absent } from '../../../src/rig/reading.ts';
import { type RigFiles, rigFiles } from '../../../src/rig/rig-files.ts';
import { takeInventory } from '../../../src/rig/take-inventory.ts';
import { inventoryOf, rigNames, rigRoot } from './rigs.ts';

const decoy = /decoy|decade/i;

/** Words with a decoy in them, of all files and names of a fixture. */
function decoysIn(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    const own = [...name.matchAll(/[\w:.-]*(?:decoy|de:ca:de)[\w:.-]*/gi)].map(([word]) => word);
    const entry = lstatSync(path);
    if (entry.isDirectory()) return [...own, ...decoysIn(path)];
    if (!entry.isFile()) return own;
    const text = readFileSync(path, 'utf8');
    return [...own, ...[...text.matchAll(/[\w:.-]*(?:decoy|decade|de:ca:de)[\w:.-]*/gi)].flat()];
  });
}

describe.each(rigNames)('what identifies a rig or its owner (%s)', (name) => {
  it('is in the fixture in many places and nowhere in the inventory', async () => {
    const decoys = decoysIn(rigRoot(name));
    expect(new Set(decoys).size).toBeGreaterThan(20);
    const text = JSON.stringify(await inventoryOf(name));
    for (const word of decoys) expect(text, word).not.toContain(word);
    expect(text).not.toMatch(decoy);
    expect(text).not.toMatch(/[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}/i);
    expect(text).not.toMatch(/(?:[0-9a-f]{2}:){5}[0-9a-f]{2}/i);
    expect(text).not.toMatch(/192\.0\.2\.|\/home\/|user-1000/);
    // Where the fixture lies is the tester's business too.
    expect(text).not.toContain('fixtures');
  });
});

const canary = 'canary7f3a';
const fieldFiles =
  /\/(?:cpuinfo|meminfo|\+dmi:id|uevent|os-release|cmdline|mountinfo|cgroup|status|stat)$/;

/** The fixture with more in it than it has: names in every folder, files below these, lines in files of many fields. */
function withMore(files: RigFiles, names: readonly string[], lines: readonly string[]): RigFiles {
  const added = names.map((each) => `${each}${canary}`);
  return {
    ...files,
    list: async (path) =>
      added.some((each) => path.endsWith(`/${each}`))
        ? [canary, 'name', 'type', 'size']
        : [...(await files.list(path)), ...added],
    readText: async (path) => {
      if (added.some((each) => path.includes(`/${each}`))) return `${canary}\n`;
      const text = await files.readText(path);
      return fieldFiles.test(path) ? `${text.trimEnd()}\n${lines.join('\n')}\n` : text;
    },
  };
}

const names = fc.array(
  fc.oneof(
    fc.string({ minLength: 1, maxLength: 12 }).map((text) => text.replace(/[/\0]/g, '')),
    fc.constantFrom('cpu', 'card', 'nvme0n', 'sd', 'policy', 'node', 'hwmon', 'intel-rapl:', 'BAT'),
  ),
  { maxLength: 4 },
);
const keys = fc.oneof(
  fc.stringMatching(/^[A-Za-z_ ]{1,20}$/),
  fc.constantFrom(
    'serial',
    'Serial Number',
    'E:MEMORY_DEVICE_1_SERIAL_NUMBER',
    'E:MEMORY_DEVICE_1_ASSET_TAG',
    'E:MEMORY_DEVICE_9_PART_NUMBER',
    'E:ID_SERIAL',
    'GPU UUID',
    'root',
    'machine-id',
  ),
);
const lines = fc.array(
  fc
    .tuple(keys, fc.constantFrom(': ', '=', '\t: ', ' '))
    .map(([key, separator]) => `${key}${separator}${canary}`),
  { maxLength: 6 },
);

describe('a file, name or line that nobody declared', () => {
  it('never gets into an inventory', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...rigNames),
        names,
        lines,
        async (name, moreNames, moreLines) => {
          const files = withMore(rigFiles(rigRoot(name)), moreNames, moreLines);
          expect(JSON.stringify(await inventoryOf(name, { files }))).not.toContain(canary);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('is dropped by the registry when a collector gives it', async () => {
    const inventory = await takeInventory({
      root: rigRoot('desktop-coretemp'),
      now: () => new Date(0),
      versions: {},
      collectors: [
        {
          name: 'cpu',
          collect: async () => ({
            readings: Object.fromEntries(
              ['serial', 'constructor', '__proto__'].map((key) => [
                key,
                { value: canary, source: 'x' },
              ]),
            ),
            items: {
              caches: [{ level: { value: 1, source: 'x' }, wwid: { value: canary, source: 'x' } }],
              secrets: [{ key: { value: canary, source: 'x' } }],
            },
          }),
        },
      ],
    });
    expect(JSON.stringify(inventory)).not.toContain(canary);
    expect(inventory.sections['cpu']?.items['caches']?.[0]?.['level']?.value).toBe(1);
  });
});

describe('an identifier that a maker wrote into a name that is recorded', () => {
  const catalog = inventoryCatalog['board'];
  const missing = absent('not-reported', 'x');

  it.each([
    ['a UUID', 'Board 0d3c0e5e-2b1c-4f60-8e2a-7a6b1c20aaaa', 'withheld'],
    ['a MAC address', 'Board 02:00:5e:10:00:7f', 'withheld'],
    ['a home path', '/home/somebody/board', 'withheld'],
  ])('is withheld: %s', (_, value, reason) => {
    if (catalog === undefined) throw new Error('no board in the catalog');
    const raw = { readings: { name: { value, source: 'x' } }, items: {} };
    expect(admitSection(catalog, raw, missing).readings['name']).toEqual({
      value: null,
      absent: reason,
      source: 'x',
    });
  });

  it('is taken out of the source too, and PCI addresses stay', () => {
    if (catalog === undefined) throw new Error('no board in the catalog');
    const raw = {
      readings: {
        name: { value: 'EB-1', source: '/sys/class/power_supply/mouse-02:00:5e:10:00:7f/type' },
        version: { value: '0000:01:00.0', source: '/sys/bus/pci/devices/0000:01:00.0' },
      },
      items: {},
    };
    const { readings } = admitSection(catalog, raw, missing);
    expect(readings['name']).toMatchObject({ value: 'EB-1', source: 'withheld' });
    expect(readings['version']).toMatchObject({ source: '/sys/bus/pci/devices/0000:01:00.0' });
  });

  it('loses escape codes and what is beyond 300 characters', () => {
    if (catalog === undefined) throw new Error('no board in the catalog');
    const value = `\u001b[31mEB\u0007-1${'x'.repeat(1000)}`;
    const raw = { readings: { name: { value, source: 'x' } }, items: {} };
    expect(admitSection(catalog, raw, missing).readings['name']?.value).toBe(
      `[31mEB-1${'x'.repeat(292)}`,
    );
  });
});
