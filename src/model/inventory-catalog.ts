import type { CatalogReading, CatalogSection } from './catalog/entry.ts';
import { board, cpu, firmware, graphics, memory, pcie, storage } from './catalog/parts.ts';
import { frequency, mitigations, power, topology } from './catalog/settings.ts';
import { os, tools, virtualization } from './catalog/system.ts';

/** Every section in the order it is shown: parts first, then how they are set, then what runs on them. */
export const inventoryCatalog: Readonly<Record<string, CatalogSection>> = {
  cpu,
  memory,
  graphics,
  board,
  firmware,
  storage,
  pcie,
  frequency,
  power,
  topology,
  mitigations,
  os,
  virtualization,
  tools,
};

/** Entry of `section.reading` or `section.list.field`; null for anything that may not be recorded. */
export function catalogEntry(path: string): CatalogReading | null {
  const [sectionName = '', first = '', field] = path.split('.');
  const section = own(inventoryCatalog, sectionName);
  if (section === null) return null;
  if (field === undefined) return own(section.readings, first);
  const list = own(section.items, first);
  return list === null ? null : own(list.fields, field);
}

function own<T>(record: Readonly<Record<string, T>>, key: string): T | null {
  return Object.hasOwn(record, key) ? (record[key] ?? null) : null;
}
