import { type Command, Option } from 'commander';
import { jsonOption, resultsOption, wholeNumber } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const after = `
Measure the unchanged rig three times or more, five if you can: rebooted between,
or taken apart and put together again where rigs to compare will be. Then

  steadyrig precision bench-a
  steadyrig precision bench-a --suite everyday --last 5
  steadyrig precision bench-a --sittings 9f3c,a01b,77de --dry-run`;

export function definePrecision(program: Command, exit: Exit): void {
  program
    .command('precision')
    .description('say how far sittings of one unchanged rig lie apart, and store it')
    .argument('<rig>', 'label of the rig')
    .option('--suite <name>', 'id of the suite, or the first digits of its digest')
    .addOption(
      new Option('--last <n>', 'only so many of its latest sittings').argParser(
        wholeNumber(100_000),
      ),
    )
    .addOption(
      new Option('--sittings <ids>', 'these sittings, separated by commas').conflicts('last'),
    )
    .option('--dry-run', 'print it and store nothing')
    .addOption(resultsOption())
    .addOption(jsonOption())
    .addHelpText('after', after)
    .action(lazily(async () => (await import('../actions/precision.ts')).precision, exit));
}
