import { fileURLToPath } from 'node:url';
import type { Inventory, Reading } from '../../../src/model/inventory.ts';
import { type InventoryOptions, takeInventory } from '../../../src/rig/take-inventory.ts';

export const rigNames = ['desktop-coretemp', 'desktop-k10temp'] as const;
export type RigName = (typeof rigNames)[number];

export function rigRoot(name: RigName): string {
  return fileURLToPath(new URL(`../../fixtures/rigs/${name}`, import.meta.url));
}

const fixedVersions = {
  node: '20.19.0',
  v8: '11.3.244.8-node.26',
  openssl: '3.0.15',
  zlib: '1.3.0.1',
  brotli: '1.1.0',
  uv: '1.46.0',
};

/** Inventory of a fixture at a fixed time. */
export function inventoryOf(
  name: RigName,
  options: Partial<InventoryOptions> = {},
): Promise<Inventory> {
  return takeInventory({
    root: rigRoot(name),
    now: () => new Date('2024-11-05T10:00:00Z'),
    versions: fixedVersions,
    // A busy test machine must not change what is found.
    collectorLimitSeconds: 60,
    ...options,
  });
}

/** `section.reading`, or `section.list.index.field`. */
export function readingAt(inventory: Inventory, path: string): Reading {
  const [section = '', first = '', index, field] = path.split('.');
  const found = inventory.sections[section];
  const reading =
    field === undefined ? found?.readings[first] : found?.items[first]?.[Number(index)]?.[field];
  if (reading === undefined) throw new Error(`no reading ${path}`);
  return reading;
}

export function valueAt(inventory: Inventory, path: string): Reading['value'] {
  return readingAt(inventory, path).value;
}

/** Every reading with its catalog path. */
export function allReadings(inventory: Inventory): (readonly [path: string, reading: Reading])[] {
  return Object.entries(inventory.sections).flatMap(([section, { readings, items }]) => [
    ...Object.entries(readings).map(([name, reading]) => [`${section}.${name}`, reading] as const),
    ...Object.entries(items).flatMap(([list, parts]) =>
      parts.flatMap((item) =>
        Object.entries(item).map(
          ([field, reading]) => [`${section}.${list}.${field}`, reading] as const,
        ),
      ),
    ),
  ]);
}
