import { type Command, Option } from 'commander';
import { resultsOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const examples = `
Examples:
  steadyrig export > figures.csv
  steadyrig export latest --out figures.parquet
  steadyrig export results/*bench-a* --format jsonl --out bench-a.jsonl`;

export function defineExport(program: Command, exit: Exit): void {
  program
    .command('export')
    .description('write figures in long form: a row for each metric of each good repeat')
    .argument('[sittings...]', 'folders, ids or ends of ids, or latest; left out: all')
    .addOption(resultsOption())
    .addOption(
      new Option('--format <format>', 'default: by the ending of --out, else csv').choices([
        'csv',
        'jsonl',
        'parquet',
      ]),
    )
    .option('--out <file>', 'a new file, or - for standard output', '-')
    .addHelpText('after', examples)
    .action(lazily(async () => (await import('../actions/export.ts')).exportSittings, exit));
}
