export const inventorySchema = 'steadyrig/inventory/1';

/** `inventory.json`: what is in the box and how it is set. Missing is never zero: an absent reading says why. */
export interface Inventory {
  readonly schema: typeof inventorySchema;
  /** RFC 3339, UTC. */
  readonly takenAt: string;
  readonly seconds: number;
  readonly collectors: readonly CollectorReport[];
  /** Keyed by section name (`cpu`, `memory`, `board`), in the order they are shown. */
  readonly sections: Readonly<Record<string, Section>>;
}

export interface CollectorReport {
  readonly name: string;
  readonly seconds: number;
  /** Null when it worked. A failing collector is reported, never fatal. */
  readonly failure: string | null;
}

export interface Section {
  readonly readings: Readonly<Record<string, Reading>>;
  /** Parts of which a rig may have several (`modules`, `disks`), in a stable order. */
  readonly items: Readonly<Record<string, readonly Item[]>>;
}

export type Item = Readonly<Record<string, Reading>>;

export type ReadingValue = string | number | boolean | readonly string[] | readonly number[];

export type Reading = Present | Absent;

export interface Present {
  readonly value: ReadingValue;
  /** UCUM code; null for names and switches. */
  readonly unit: string | null;
  /** Kernel path or program it was read from. */
  readonly source: string;
}

export interface Absent {
  readonly value: null;
  readonly absent: AbsenceReason;
  readonly source: string;
}

/**
 * `unreadable`: an error or a text that makes no sense. `not-reported`: the source is there and leaves this out.
 * `not-set`: the source says that there is none (no limit, no swap). `withheld`: it looked like an identifier.
 */
export const absenceReasons = [
  'no-such-file',
  'not-permitted',
  'not-supported',
  'unreadable',
  'not-reported',
  'not-set',
  'withheld',
] as const;
export type AbsenceReason = (typeof absenceReasons)[number];
