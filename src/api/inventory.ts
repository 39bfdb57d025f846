import type { Inventory } from '../model/inventory.ts';
import { takeInventory } from '../rig/take-inventory.ts';

/** What is in the box and how it is set, read without root rights. Never fails as a whole. */
export function inventory(root = '/'): Promise<Inventory> {
  return takeInventory({ root, now: () => new Date(), versions: process.versions });
}
