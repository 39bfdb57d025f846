import type { Command } from 'commander';
import { jsonOption, resultsOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const examples = `
Examples:
  steadyrig inventory --json > before-the-swap.json
  steadyrig inventory --against bench-a`;

export function defineInventory(program: Command, exit: Exit): void {
  program
    .command('inventory')
    .description('print what is in this machine and how it is set')
    .option('--against <sitting>', 'say what changed since: a rig (its latest sitting), an id')
    .addOption(resultsOption())
    .addOption(jsonOption())
    .addHelpText('after', examples)
    .action(lazily(async () => (await import('../actions/inventory.ts')).inventory, exit));
}
