import type { Command } from 'commander';
import { jsonOption, resultsOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const examples = `
Examples:
  steadyrig enter latest --template > figures.csv
  steadyrig enter latest figures.csv
  steadyrig enter 9f3c                   asks for each missing figure

The file has the heading workload,round,metric,value and, if wanted, unit and
reason. A figure that is recorded already is corrected by another value with a
reason; both stay in the journal. Once all are there, the sitting is sealed.`;

export function defineEnter(program: Command, exit: Exit): void {
  program
    .command('enter')
    .description('enter or correct figures read by hand, from a CSV or by questions')
    .argument('<sitting>', 'its folder, its id or the end of it, or latest')
    .argument('[file]', 'CSV of figures; left out, each missing one is asked for')
    .addOption(resultsOption())
    .option('--template', 'print a CSV with a row for each missing figure; enter nothing')
    .addOption(jsonOption())
    .addHelpText('after', examples)
    .action(lazily(async () => (await import('../actions/enter.ts')).enter, exit));
}
