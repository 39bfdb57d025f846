import { type Command, InvalidArgumentError } from 'commander';
import {
  confidenceOption,
  jsonOption,
  mattersOption,
  noVerifyOption,
  resultsOption,
} from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const examples = `
Rigs state what is varied by the levels that their sittings were run with
(run --level memory="2x8 GiB"); the first one named is the baseline.

Examples:
  steadyrig effects campaign.yaml
  steadyrig effects first-8 first-16 second-8 second-16`;

export function defineEffects(program: Command, exit: Exit): void {
  program
    .command('effects')
    .description('say what each factor of several rigs does, and whether it is the cause')
    .argument('<rigs...>', 'a campaign file, or two rigs or more as in compare')
    .addOption(resultsOption())
    .option('--suite <suite>', 'of rigs: name of the suite, or the start of its digest')
    .addOption(mattersOption('of the campaign or suite'))
    .addOption(confidenceOption())
    .option('--order <number>', 'look at interactions of up to so many factors', parseOrder)
    .option('--allow-revision', 'take other revisions of suite and programs all the same')
    .addOption(noVerifyOption())
    .addOption(jsonOption())
    .addHelpText('after', examples)
    .action(lazily(async () => (await import('../actions/effects.ts')).effects, exit));
}

function parseOrder(text: string): number {
  if (/^[1-9]$/.test(text)) return Number(text);
  throw new InvalidArgumentError('it must be a number from 1 to 9');
}
