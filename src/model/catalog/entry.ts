import type { UnitCode } from '../unit.ts';

/** What one reading means; nothing that has no entry here may enter an inventory. */
export interface CatalogReading {
  /** For people, lower case. */
  readonly label: string;
  /** UCUM code; null for names, lists and switches. */
  readonly unit: UnitCode | null;
  /** True for what changes by itself between two looks at an unchanged rig: left out when rigs are compared. */
  readonly moves: boolean;
}

export interface CatalogList {
  readonly label: string;
  readonly fields: Readonly<Record<string, CatalogReading>>;
}

export interface CatalogSection {
  readonly title: string;
  readonly readings: Readonly<Record<string, CatalogReading>>;
  readonly items: Readonly<Record<string, CatalogList>>;
}

export function named(label: string): CatalogReading {
  return { label, unit: null, moves: false };
}
export function measured(unit: UnitCode, label: string): CatalogReading {
  return { label, unit, moves: false };
}
export function moving(unit: UnitCode | null, label: string): CatalogReading {
  return { label, unit, moves: true };
}
export const count = (label: string): CatalogReading => measured('1', label);
export const bytes = (label: string): CatalogReading => measured('By', label);
export const hertz = (label: string): CatalogReading => measured('Hz', label);
export const watts = (label: string): CatalogReading => measured('W', label);
export const transfers = (label: string): CatalogReading => measured('{transfers}/s', label);
