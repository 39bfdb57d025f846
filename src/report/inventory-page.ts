import type { CatalogSection } from '../model/catalog/entry.ts';
import type { AbsenceReason, Inventory, Item, Reading, Section } from '../model/inventory.ts';
import { inventoryCatalog } from '../model/inventory-catalog.ts';
import { absenceText, percentText, readingText } from '../model/reading-text.ts';
import { fieldText, type ItemRow, itemRow } from './inventory-items.ts';
import { inventorySummary } from './inventory-summary.ts';
import { labelledLines } from './labelled-lines.ts';

const width = 80;
const labelWidth = 25;

/** Heading over the first section of each group. */
const groups: Readonly<Record<string, string>> = {
  cpu: 'IN THE BOX',
  frequency: 'HOW IT IS SET',
  os: 'WHAT RUNS ON IT',
};

/**
 * The inventory as a page of text, at most 80 columns: what a tester looks for first, then every section. What is
 * not known is named with its reason at the end of each section.
 */
export function renderInventoryPage(inventory: Inventory): string {
  const lines = [`Inventory of ${inventory.takenAt.slice(0, 19).replace('T', ' ')} UTC`, ''];
  for (const { label, text } of inventorySummary(inventory))
    lines.push(...labelledLines(text, `  ${label.padEnd(10)}  `, width));
  for (const [name, catalog] of Object.entries(inventoryCatalog)) {
    const section = inventory.sections[name];
    if (section === undefined) continue;
    if (groups[name] !== undefined) lines.push('', groups[name]);
    lines.push('', catalog.title);
    for (const row of sectionRows(inventory, name, catalog, section)) lines.push(...rowLines(row));
  }
  return lines.join('\n');
}

function rowLines({ label, text }: ItemRow): readonly string[] {
  const first = `  ${label.padEnd(labelWidth)} `;
  if (label.length <= labelWidth) return labelledLines(text, first, width);
  return [
    ...labelledLines(label, '  ', width),
    ...labelledLines(text, ' '.repeat(labelWidth + 3), width),
  ];
}

function sectionRows(
  inventory: Inventory,
  name: string,
  catalog: CatalogSection,
  section: Section,
): readonly ItemRow[] {
  const failure = inventory.collectors.find((collector) => collector.name === name)?.failure;
  const rows: ItemRow[] = [];
  for (const [key, entry] of Object.entries(catalog.readings)) {
    const text = textOf(key, section.readings[key]);
    if (text !== null) rows.push({ label: entry.label, text });
  }
  for (const [key, list] of Object.entries(catalog.items)) {
    const items = section.items[key] ?? [];
    if (key === 'vulnerabilities') rows.push(...vulnerabilityRows(items));
    else rows.push(...items.map((item) => itemRow(`${name}.${key}`, list, item)));
  }
  if (typeof failure === 'string') return [...rows, { label: 'not read', text: failure }];
  return [...rows, ...absenceRows(catalog, section)];
}

const fractions = new Set(['minPerformance', 'maxPerformance']);

/** Null for what is absent or told elsewhere on the page: how many parts there are, how long a CPU list is. */
function textOf(key: string, reading: Reading | undefined): string | null {
  if (reading === undefined || reading.value === null) return null;
  if (/(?:Found|Count)$/.test(key) && reading.value !== 0) return null;
  if (fractions.has(key) && typeof reading.value === 'number') return percentText(reading.value);
  if (key === 'commandLine' && typeof reading.value === 'object') return reading.value.join(' ');
  return readingText(reading);
}

function vulnerabilityRows(items: readonly Item[]): ItemRow[] {
  const states = items.map((item) => ({
    label: fieldText(item, 'name') ?? '?',
    text: fieldText(item, 'state') ?? '?',
  }));
  const unaffected = states.filter(({ text }) => text === 'Not affected');
  const rest = states.filter(({ text }) => text !== 'Not affected');
  if (unaffected.length === 0) return rest;
  return [
    ...rest,
    { label: 'not affected', text: unaffected.map(({ label }) => label).join(', ') },
  ];
}

/** `not known: microcode, stepping (no such file); ...`, and what the rig says that there is none of. */
function absenceRows(catalog: CatalogSection, section: Section): ItemRow[] {
  const byReason = new Map<AbsenceReason, Set<string>>();
  const note = (label: string, reading: Reading | undefined) => {
    if (reading === undefined || reading.value !== null) return;
    byReason.set(reading.absent, (byReason.get(reading.absent) ?? new Set()).add(label));
  };
  for (const [key, entry] of Object.entries(catalog.readings))
    note(entry.label, section.readings[key]);
  for (const [key, list] of Object.entries(catalog.items))
    for (const [name, entry] of Object.entries(list.fields)) {
      const readings = (section.items[key] ?? []).map((item) => item[name]);
      // What one part has, another may well lack: only what all lack is worth a word.
      const missing = readings.every(
        (reading) => reading?.value === null && reading.absent !== 'not-set',
      );
      if (missing) note(entry.label, readings[0]);
    }
  const unset = byReason.get('not-set');
  byReason.delete('not-set');
  const unknown = [...byReason].map(
    ([reason, labels]) => `${[...labels].join(', ')} (${absenceText(reason)})`,
  );
  return [
    ...(unset === undefined ? [] : [{ label: 'not set', text: [...unset].join(', ') }]),
    ...(unknown.length === 0 ? [] : [{ label: 'not known', text: unknown.join('; ') }]),
  ];
}
