import type { Inventory } from '../model/inventory.ts';
import {
  type InventoryDifference,
  type InventoryDifferences,
  inventoryDifferencesSchema,
  type UnreadReading,
} from '../model/inventory-differences.ts';
import { byTelling } from '../model/rules/by-telling.ts';
import type { RigChange } from '../model/sitting.ts';
import { factText } from './fact-text.ts';
import { absentFact, type Fact, inventoryFacts, isAlike } from './rig-facts.ts';

/**
 * What changed between two inventories of a machine. A reading that could not be read at one of the looks (not permitted, a collector
 * that failed) is no change; one that is not there any more is.
 */
export function compareInventories(
  before: Inventory,
  after: Inventory,
  sitting: string | null = null,
): InventoryDifferences {
  const [earlier, later] = [inventoryFacts(before), inventoryFacts(after)];
  const failed = [before, after].flatMap(({ collectors }) =>
    collectors.filter(({ failure }) => failure !== null).map(({ name }) => name),
  );
  const differences: InventoryDifference[] = [];
  const unread: UnreadReading[] = [];
  let alike = 0;
  for (const path of new Set([...earlier.keys(), ...later.keys()])) {
    const [from, to] = [earlier.get(path) ?? nothing, later.get(path) ?? nothing];
    const reason = failed.some((name) => path.startsWith(`${name}.`))
      ? 'its collector failed'
      : (from.unread ?? to.unread);
    if (reason !== null) unread.push({ path, reason });
    else if (!isAlike(path, from, to)) differences.push(difference(path, from, to));
    else if (from.absent === null) alike += 1;
  }
  return {
    schema: inventoryDifferencesSchema,
    before: before.takenAt,
    after: after.takenAt,
    sitting,
    parts: byTelling(differences),
    unread,
    alike,
  };
}

/** What changed between two inventories of a machine, as `compareInventories` finds it, in one list. */
export function inventoryChanges(before: Inventory, after: Inventory): readonly RigChange[] {
  return compareInventories(before, after).parts.flatMap(({ differences }) => differences);
}

const nothing = absentFact('not recorded');

function difference(path: string, from: Fact, to: Fact): InventoryDifference {
  return { path, from: factText(from, to), to: factText(to, from) };
}
