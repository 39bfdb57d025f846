import { Argument, type Command } from 'commander';
import { jsonOption, resultsOption, wholeNumber } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const after = `
The sitting itself stays as it is, and its page shows the figures with and
without the run. Say what went wrong, not that the figure looks odd.

Examples:
  steadyrig exclude 9f3c pack 3 --reason "side panel was opened"
  steadyrig exclude 9f3c pack 3 --reason "it was repeat 2" --take-back`;

export function defineExclude(program: Command, exit: Exit): void {
  program
    .command('exclude')
    .description('leave a repeat out of comparisons, for a reason that is kept')
    .argument('<sitting>', 'its folder, its id or the end of it, or latest')
    .argument('<workload>', 'id, as in the suite')
    .addArgument(new Argument('<repeat>', 'its number, from 1').argParser(wholeNumber(1_000_000)))
    .requiredOption('--reason <text>', 'what went wrong')
    .option('--take-back', 'let the repeat count again')
    .addOption(resultsOption())
    .addOption(jsonOption())
    .addHelpText('after', after)
    .action(lazily(async () => (await import('../actions/exclude.ts')).exclude, exit));
}
