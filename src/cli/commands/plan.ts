import type { Command } from 'commander';
import { jsonOption, profileOption, seedOption, suiteArgument } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

export function definePlan(program: Command, exit: Exit): void {
  program
    .command('plan')
    .description('print the exact order of runs and an estimate of the time')
    .addArgument(suiteArgument())
    .addOption(profileOption())
    .addOption(seedOption())
    .option('--for <duration>', 'tell how many rounds fit into a time, such as 8h')
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  steadyrig plan first-light --seed 7')
    .action(lazily(async () => (await import('../actions/plan.ts')).plan, exit));
}
