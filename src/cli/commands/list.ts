import type { Command } from 'commander';
import { jsonOption, resultsOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

export function defineList(program: Command, exit: Exit): void {
  program
    .command('list')
    .description('list the sittings of a results folder')
    .addOption(resultsOption())
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  steadyrig list --results /mnt/bench/results')
    .action(lazily(async () => (await import('../actions/list.ts')).list, exit));
}
