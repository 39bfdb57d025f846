import type { Command } from 'commander';
import {
  jsonOption,
  profileOption,
  resultsOption,
  seedOption,
  suiteArgument,
} from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const examples = `
Examples:
  steadyrig plan first-light --seed 7
  steadyrig plan everyday --rig bench-a --detect 3% --sitting-cost 10min`;

export function definePlan(program: Command, exit: Exit): void {
  program
    .command('plan')
    .description('print the exact order of runs and an estimate of the time')
    .addArgument(suiteArgument())
    .addOption(profileOption())
    .addOption(seedOption())
    .option('--for <duration>', 'tell how many rounds fit into a time, such as 8h')
    .option('--detect <difference>', 'tell what it takes to find it, such as 3%')
    .option('--rig <label>', 'with --detect: whose precision study to go by')
    .option('--sitting-cost <duration>', 'with --detect: swap or reboot, and settling', '5min')
    .addOption(resultsOption())
    .addOption(jsonOption())
    .addHelpText('after', examples)
    .action(lazily(async () => (await import('../actions/plan.ts')).plan, exit));
}
