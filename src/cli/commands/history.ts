import { type Command, InvalidArgumentError, Option } from 'commander';
import { jsonOption, noVerifyOption, resultsOption, wholeNumber } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const examples = `
Examples:
  steadyrig history bench-a
  steadyrig history bench-a pack load --suite everyday
  steadyrig history bench-a --svg bench-a.svg`;

export function defineHistory(program: Command, exit: Exit): void {
  program
    .command('history')
    .description('say how a rig went through time: limits, signals, changes, what changed beside')
    .argument('<rig>', 'label of the rig, or its sittings as for compare')
    .argument('[workloads...]', 'only these')
    .addOption(resultsOption())
    .option('--suite <suite>', 'name of the suite, or the start of its digest')
    .addOption(
      new Option(
        '--baseline <n>',
        'so many first sittings give the limits (default: half, 8 to 20)',
      ).argParser(baselineSize),
    )
    .option('--svg <file>', 'draw the charts into a file too')
    .addOption(noVerifyOption())
    .addOption(jsonOption())
    .addHelpText('after', examples)
    .action(lazily(async () => (await import('../actions/history.ts')).history, exit));
}

function baselineSize(text: string): number {
  const size = wholeNumber(1000)(text);
  if (size < 8) throw new InvalidArgumentError('limits need 8 sittings or more');
  return size;
}
