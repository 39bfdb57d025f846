import { type Command, Option } from 'commander';
import {
  addMeasuringOptions,
  collectLevel,
  profileOption,
  resultsOption,
  rigOption,
  seedOption,
  skipMissingOption,
  suiteArgument,
  wholeNumber,
} from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const examples = `
Examples:
  steadyrig run first-light --rig bench-a
  steadyrig run my-suite.yaml --rig bench-a --level memory="2x8 GiB"
  steadyrig run first-light --rig bench-a --ambient "22 °C" --assembly 2
  steadyrig run overnight --unattended --until 07:00
  steadyrig run first-light --log night.jsonl > night.txt

The first sitting of a rig label shows cautions and waits for a yes; without a
terminal or with --unattended, --acknowledge says it beforehand.

The first Ctrl-C lets the run under way finish and ends the sitting; the second
ends it at once.`;

export function defineRun(program: Command, exit: Exit): void {
  const command = program
    .command('run')
    .description('measure a suite on this rig; leaves a sealed result folder')
    .addArgument(suiteArgument())
    .addOption(rigOption())
    .addOption(resultsOption())
    .addOption(profileOption())
    .addOption(seedOption())
    .addOption(
      new Option('--level <factor=level>', 'level of a factor; may be repeated')
        .argParser(collectLevel)
        .default({}, 'none'),
    )
    .option(
      '--assembly <number>',
      'how often this rig was taken apart and rebuilt',
      wholeNumber(9999),
    )
    .option('--ambient <temperature>', 'room temperature, such as "22 °C"')
    .option('--notes <text>', 'anything worth remembering about this sitting')
    .addOption(skipMissingOption())
    .option('--acknowledge', 'the cautions before a long load are read and accepted');
  addMeasuringOptions(command)
    .addHelpText('after', examples)
    .action(lazily(async () => (await import('../actions/run.ts')).run, exit));
}
