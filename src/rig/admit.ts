import type { CatalogReading, CatalogSection } from '../model/catalog/entry.ts';
import type { Item, Reading, ReadingValue, Section } from '../model/inventory.ts';
import type { RawReading, RawSection } from './reading.ts';

/**
 * The section as it may be recorded: exactly the readings that the catalog declares, with their units. What a
 * collector adds to that is dropped; what it left out is `missing`.
 */
export function admitSection(
  catalog: CatalogSection,
  raw: RawSection,
  missing: RawReading,
): Section {
  const pick = (
    declared: Readonly<Record<string, CatalogReading>>,
    given: RawSection['readings'],
  ) =>
    Object.fromEntries(
      Object.entries(declared).map(([key, entry]) => [
        key,
        admitReading(entry, own(given, key) ?? missing),
      ]),
    );
  const items = Object.entries(catalog.items).map(
    ([key, list]): readonly [string, readonly Item[]] => [
      key,
      (own(raw.items, key) ?? []).map((item) => pick(list.fields, item)),
    ],
  );
  return { readings: pick(catalog.readings, raw.readings), items: Object.fromEntries(items) };
}

function own<T>(record: Readonly<Record<string, T>>, key: string): T | undefined {
  return Object.hasOwn(record, key) ? record[key] : undefined;
}

// A second net below the allow-list: an identifier that a maker wrote into a name that we do record.
const identifier =
  /[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}|(?<![0-9a-f:])[0-9a-f]{2}(?:[:-][0-9a-f]{2}){5}(?![0-9a-f:])|\/home\/|\/Users\//i;

function admitReading(entry: CatalogReading, raw: RawReading): Reading {
  const source = identifier.test(raw.source) ? 'withheld' : raw.source;
  if (raw.value === null) return { value: null, absent: raw.absent, source };
  if (identifier.test(String(raw.value))) return { value: null, absent: 'withheld', source };
  if (typeof raw.value === 'number' && !Number.isFinite(raw.value))
    return { value: null, absent: 'unreadable', source };
  return { value: printable(raw.value), unit: entry.unit, source };
}

const longest = 300;

/** Names come from firmware and end on terminals: no control characters, and bounded. */
function printable(value: ReadingValue): ReadingValue {
  const clean = (text: string) => text.replace(/\p{C}/gu, '').slice(0, longest);
  if (typeof value === 'string') return clean(value);
  if (typeof value !== 'object') return value;
  return value.every((part) => typeof part === 'string') ? value.map(clean) : value;
}
