import { catalogEntry, inventoryCatalog } from '../inventory-catalog.ts';

/** A reading for people: `modules, size`; a path that the catalog does not know as it is. */
export function catalogLabel(path: string): string {
  const entry = catalogEntry(path);
  const [section = '', list = '', field] = path.split('.');
  const label = inventoryCatalog[section]?.items[list]?.label;
  if (field === undefined) return entry?.label ?? label ?? path;
  return entry === null ? path : `${label}, ${entry.label}`;
}
