import type { Command } from 'commander';
import {
  asOption,
  cacheOption,
  jsonOption,
  portableMeterOption,
  profileOption,
  resultsOption,
  rigOption,
  scratchOption,
  skipMissingOption,
  suiteArgument,
} from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

export function defineCheck(program: Command, exit: Exit): void {
  program
    .command('check')
    .description(
      'check a suite and whether this rig is fit for it, or a campaign; measures nothing',
    )
    .addArgument(suiteArgument())
    .addOption(profileOption())
    .addOption(rigOption())
    .addOption(resultsOption())
    .addOption(scratchOption())
    .addOption(cacheOption())
    .addOption(skipMissingOption())
    .addOption(portableMeterOption())
    .addOption(asOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      '\nExamples:\n  steadyrig check suites/first-light.yaml\n  steadyrig check campaign.yaml    whether its rigs can answer its questions',
    )
    .action(lazily(async () => (await import('../actions/check.ts')).check, exit));
}
