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
    .description('check a suite and whether this rig is fit to measure it; measures nothing')
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
    .addHelpText('after', '\nExample:\n  steadyrig check suites/first-light.yaml')
    .action(lazily(async () => (await import('../actions/check.ts')).check, exit));
}
