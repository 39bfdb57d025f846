import type { SittingFigures } from '../model/comparison-request.ts';
import type { Inventory, Item, Reading } from '../model/inventory.ts';
import { catalogEntry } from '../model/inventory-catalog.ts';
import { absenceText, readingText } from '../model/reading-text.ts';
import { tolerances } from '../model/rules/tolerances.ts';

/** What a sitting says of its rig under one path. */
export interface Fact {
  /** Equal exactly where two rigs are alike in it, tolerances aside: see `isAlike`. */
  readonly exact: string;
  /** Its parts, of a list one for each item; empty where it is absent. */
  readonly parts: readonly Part[];
  /** Why there is no value; null where there is one. */
  readonly absent: string | null;
  /** Something may be there, of a list also in one item, and could not be read: why. Null where nothing was missed. */
  readonly unread: string | null;
}

export interface Part {
  readonly exact: string;
  readonly shown: string;
  /** Of a reading that is a number, base unit; null for others. */
  readonly number: number | null;
  /** Name of the item that it is of; empty where it has none. */
  readonly of: string;
}

/** Lists whose items have a name of their own: their fields are told with it. Items of others are compared as a heap, in any order. */
const itemNames: Readonly<Record<string, readonly string[]>> = {
  'cpu.caches': ['level', 'type'],
  'mitigations.vulnerabilities': ['name'],
  'power.limits': ['zone', 'constraint'],
  'topology.nodes': ['name'],
};

/**
 * What should be alike for two sittings to be told apart by what was declared only: every reading of the inventory that does not
 * move by itself, the versions of steadyrig and of the programs, the suite, the meter, the levels.
 */
export function rigFacts(sitting: SittingFigures): ReadonlyMap<string, Fact> {
  const facts = new Map<string, Fact>();
  for (const [factor, level] of Object.entries(sitting.levels)) {
    facts.set(`levels.${factor}`, plainFact(level));
  }
  facts.set('suite.digest', plainFact(sitting.suite.digest, sitting.suite.digest.slice(0, 12)));
  facts.set('tool.version', plainFact(sitting.toolVersion));
  facts.set('meter', sitting.meter === null ? absentFact('imported') : plainFact(sitting.meter));
  for (const { name, version, sha256 } of sitting.programs) {
    const build = `build ${sha256.slice(0, 12)}`;
    const shown = version === null ? build : `${version}, ${build}`;
    facts.set(`program.${name}`, plainFact(`${version} ${sha256}`, shown));
  }
  if (sitting.inventory === null) facts.set('inventory', absentFact('imported'));
  else {
    facts.set('inventory', plainFact('taken'));
    for (const [path, fact] of inventoryFacts(sitting.inventory)) facts.set(path, fact);
  }
  return facts;
}

export function absentFact(reason: string): Fact {
  return { exact: '', parts: [], absent: reason, unread: null };
}

function plainFact(exact: string, shown: string = exact): Fact {
  const part = { exact, shown, number: null, of: '' };
  return { exact: `=${exact}`, parts: [part], absent: null, unread: null };
}

/** Whether two rigs are alike in what stands under a path, within the tolerance that it has. */
export function isAlike(path: string, one: Fact, other: Fact): boolean {
  if (one.exact === other.exact) return true;
  const tolerance = tolerances[path];
  if (tolerance === undefined || one.parts.length !== other.parts.length) return false;
  return one.parts.every((part, at) => isNear(part, other.parts[at], tolerance));
}

function isNear(one: Part, other: Part | undefined, tolerance: number): boolean {
  if (other === undefined || one.of !== other.of) return false;
  if (one.number === null || other.number === null) return one.exact === other.exact;
  return Math.abs(one.number - other.number) <= tolerance;
}

/** All readings that do not move by themselves, by path. */
export function inventoryFacts({ sections }: Inventory): ReadonlyMap<string, Fact> {
  const facts = new Map<string, Fact>();
  for (const [section, { readings, items }] of Object.entries(sections)) {
    for (const [name, reading] of Object.entries(readings)) {
      const path = `${section}.${name}`;
      if (catalogEntry(path)?.moves !== true) facts.set(path, readingFact(reading));
    }
    for (const [list, entries] of Object.entries(items)) {
      addList(facts, `${section}.${list}`, entries);
    }
  }
  return facts;
}

function addList(facts: Map<string, Fact>, list: string, items: readonly Item[]): void {
  const names = itemNames[list] ?? [];
  const fields = new Set(items.flatMap((item) => Object.keys(item)));
  for (const field of fields) {
    const path = `${list}.${field}`;
    if (names.includes(field) || catalogEntry(path)?.moves === true) continue;
    const parts = items.map((item) => itemPart(item, field, names));
    const missed = items.flatMap((item) => unreadReason(item[field]) ?? [])[0] ?? null;
    facts.set(path, { ...heapFact(parts), unread: missed });
  }
  // Items that have nothing but their name.
  if (names.length > 0) facts.set(list, heapFact(items.map((item) => named(item, names))));
}

function heapFact(parts: readonly Part[]): Fact {
  const exact = parts
    .map((part) => part.exact)
    .sort()
    .join('\n');
  return { exact: `=${exact}`, parts, absent: null, unread: null };
}

function itemPart(item: Item, field: string, names: readonly string[]): Part {
  const own = partOf(item[field]);
  if (names.length === 0) return own;
  const name = named(item, names);
  return {
    exact: `${name.exact}: ${own.exact}`,
    shown: `${name.shown}: ${own.shown}`,
    number: own.number,
    of: name.exact,
  };
}

function named(item: Item, names: readonly string[]): Part {
  const shown = names.map((name) => partOf(item[name]).shown).join(' ');
  return { exact: shown, shown, number: null, of: '' };
}

function partOf(reading: Reading | undefined): Part {
  const unknown = { exact: '?', number: null, of: '' };
  if (reading === undefined) return { ...unknown, shown: 'not recorded' };
  if (reading.value === null) return { ...unknown, shown: absenceText(reading.absent) };
  const number = typeof reading.value === 'number' ? reading.value : null;
  const exact = JSON.stringify([reading.value, reading.unit]);
  return { exact, shown: readingText(reading), number, of: '' };
}

function readingFact(reading: Reading): Fact {
  if (reading.value === null) {
    return { ...absentFact(reading.absent), unread: unreadReason(reading) };
  }
  const part = partOf(reading);
  return { exact: `=${part.exact}`, parts: [part], absent: null, unread: null };
}

function unreadReason(reading: Reading | undefined): string | null {
  if (reading === undefined || reading.value !== null) return null;
  const isUnread = reading.absent === 'not-permitted' || reading.absent === 'unreadable';
  return isUnread ? absenceText(reading.absent) : null;
}
