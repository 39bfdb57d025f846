import type { Command } from 'commander';
import { jsonOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

export function defineInventory(program: Command, exit: Exit): void {
  program
    .command('inventory')
    .description('print what is in this machine and how it is set')
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  steadyrig inventory --json > before-the-swap.json')
    .action(lazily(async () => (await import('../actions/inventory.ts')).inventory, exit));
}
