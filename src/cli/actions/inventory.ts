import { inventory as takeInventory } from '../../api/inventory.ts';
import { renderInventoryPage } from '../../report/inventory-page.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { print, printJson } from '../print.ts';

export async function inventory(flags: { readonly json?: true }): Promise<ExitCode> {
  const taken = await takeInventory();
  if (flags.json) printJson(taken);
  else print(renderInventoryPage(taken));
  return exitCodes.fine;
}
