import { type Command, Option } from 'commander';
import { jsonOption, resultsOption, wholeNumber } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

export function defineQuery(program: Command, exit: Exit): void {
  program
    .command('query')
    .description('answer an SQL statement over all runs of a results folder (needs DuckDB)')
    .argument('<sql>', 'one statement that reads the tables sittings, runs and figures')
    .addOption(resultsOption())
    .addOption(
      new Option('--time <seconds>', 'stop the statement after so long')
        .argParser(wholeNumber(86_400))
        .default(60),
    )
    .addOption(
      new Option('--memory <MiB>', 'memory that the statement may take')
        .argParser(wholeNumber(1_048_576))
        .default(1_024),
    )
    .addOption(new Option('--csv', 'print CSV instead of a table').conflicts('json'))
    .addOption(jsonOption())
    .addHelpText(
      'after',
      '\nExample:\n  steadyrig query "select rig, count(*) as runs from runs group by rig"',
    )
    .action(lazily(async () => (await import('../actions/query.ts')).query, exit));
}
