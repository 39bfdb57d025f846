import type { Inventory } from '../../model/inventory.ts';
import type { InventoryDifference } from '../../model/inventory-differences.ts';
import type { PartId } from '../../model/rules/parts.ts';
import { readingRule } from '../../model/rules/reading-rules.ts';
import { compareInventories } from '../inventory-differences.ts';

/** Parts that make another machine when something telling of them differs. Software and settings move, and are told beside. */
const machineParts: ReadonlySet<PartId> = new Set<PartId>([
  'processor',
  'memory',
  'graphics',
  'board',
  'container',
]);
/** They come with updates, and the machine stays the same. */
const updated = new Set(['cpu.microcode', 'memory.modules.configuredSpeed']);

/** What says that a machine is not the one that an inventory was taken of; empty where nothing does. */
export function otherMachine(before: Inventory, now: Inventory): readonly InventoryDifference[] {
  return compareInventories(before, now)
    .parts.filter(({ part }) => machineParts.has(part))
    .flatMap(({ differences }) => differences)
    .filter(({ path }) => readingRule(path)?.telling === 'what' && !updated.has(path));
}
