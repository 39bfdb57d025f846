import type { PartDifferences } from './rules/by-telling.ts';

export const inventoryDifferencesSchema = 'steadyrig/inventory-differences/1';

/** What changed in a machine between two looks, by part, most telling first; what moves by itself is left out. */
export interface InventoryDifferences {
  readonly schema: typeof inventoryDifferencesSchema;
  /** When the inventories were taken. RFC 3339, UTC. */
  readonly before: string;
  readonly after: string;
  /** Sitting that the earlier one is of; null where it is of none. */
  readonly sitting: string | null;
  readonly parts: readonly PartDifferences<InventoryDifference>[];
  /** What could be read at one look only, or at none: nobody knows whether it changed. In the order of paths. */
  readonly unread: readonly UnreadReading[];
  /** Readings alike at both looks. */
  readonly alike: number;
}

export interface InventoryDifference {
  /** Such as `memory.modules.size`: of a list, all its items at once. */
  readonly path: string;
  /** For people; null: nothing there. */
  readonly from: string | null;
  readonly to: string | null;
}

export interface UnreadReading {
  readonly path: string;
  /** For people. */
  readonly reason: string;
}
