import type { Inventory, Item, Reading } from './inventory.ts';
import { catalogEntry } from './inventory-catalog.ts';

/** By path: `os.kernel`, `memory.modules.0.size`. */
export type SteadyReadings = ReadonlyMap<string, SteadyReading>;

export interface SteadyReading {
  /** Exact value with its unit; null for what is not there. */
  readonly text: string | null;
  /** Of the collector or program that told. */
  readonly source: string;
  /** False where something may be there, but could not be read. */
  readonly known: boolean;
}

/** What an unchanged rig says alike at every look: all readings but those that move by themselves. */
export function steadyReadings({ sections }: Inventory): SteadyReadings {
  const found = new Map<string, SteadyReading>();
  const addAll = (place: string, listed: string, readings: Item): void => {
    for (const [name, reading] of Object.entries(readings)) {
      const entry = catalogEntry(`${listed}.${name}`);
      if (entry !== null && !entry.moves) found.set(`${place}.${name}`, steady(reading));
    }
  };
  for (const [name, { readings, items }] of Object.entries(sections)) {
    addAll(name, name, readings);
    for (const [list, entries] of Object.entries(items)) {
      for (const [index, item] of entries.entries())
        addAll(`${name}.${list}.${index}`, `${name}.${list}`, item);
    }
  }
  return found;
}

function steady(reading: Reading): SteadyReading {
  const { value, source } = reading;
  if (value === null) {
    const known = reading.absent !== 'not-permitted' && reading.absent !== 'unreadable';
    return { text: null, source, known };
  }
  const text = Array.isArray(value) ? value.join(', ') : String(value);
  const { unit } = reading;
  return { text: unit === null || unit === '1' ? text : `${text} ${unit}`, source, known: true };
}
