import type { Command } from 'commander';
import { jsonOption, resultsOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const after = `
The file has the columns rig, sitting, workload, repeat, metric, value, unit and
better (higher or lower), in any order, with decimal points and commas between
columns.

Example:
  steadyrig import last-year.csv`;

export function defineImport(program: Command, exit: Exit): void {
  program
    .command('import')
    .description('take figures gathered elsewhere from a CSV into sealed result folders')
    .argument('<file>', 'CSV in long form, such as export writes')
    .addOption(resultsOption())
    .addOption(jsonOption())
    .addHelpText('after', after)
    .action(lazily(async () => (await import('../actions/import.ts')).importFile, exit));
}
