import { inventory as takeInventory } from '../../api/inventory.ts';
import { inventoryAgainst } from '../../api/inventory-against.ts';
import { renderInventoryDifferences } from '../../report/inventory-differences-page.ts';
import { renderInventoryPage } from '../../report/inventory-page.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { print, printError, printJson, printProblems } from '../print.ts';

interface InventoryFlags {
  readonly against?: string;
  readonly results: string;
  readonly json?: true;
}

export async function inventory({ against, results, json }: InventoryFlags): Promise<ExitCode> {
  if (against !== undefined) return tellChanges(against, results, json === true);
  const taken = await takeInventory();
  if (json) printJson(taken);
  else print(renderInventoryPage(taken));
  return exitCodes.fine;
}

/** Status 0 whatever changed: it was asked, and told. */
async function tellChanges(against: string, results: string, isJson: boolean): Promise<ExitCode> {
  const found = await inventoryAgainst(against, { results });
  if (!found.ok) {
    printProblems([found.error]);
    return exitCodes.badInput;
  }
  for (const note of found.value.notes) printError(note);
  if (isJson) printJson(found.value.differences);
  else print(renderInventoryDifferences(found.value.differences));
  return exitCodes.fine;
}
