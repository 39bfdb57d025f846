import type { Command } from 'commander';
import { jsonOption, resultsOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

export function defineShow(program: Command, exit: Exit): void {
  program
    .command('show')
    .description('print a sitting: what was measured, its state and its figures')
    .argument('[sitting]', 'its folder, its id or the end of it, or latest', 'latest')
    .addOption(resultsOption())
    .addOption(jsonOption())
    .addHelpText('after', '\nExamples:\n  steadyrig show\n  steadyrig show 9f3c --json')
    .action(lazily(async () => (await import('../actions/show.ts')).show, exit));
}
