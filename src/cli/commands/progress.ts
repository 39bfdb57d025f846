import type { Command } from 'commander';
import { jsonOption, resultsOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

export function defineProgress(program: Command, exit: Exit): void {
  program
    .command('progress')
    .description('say where a campaign stands, and what comes next')
    .argument('<campaign>', 'campaign file')
    .addOption(resultsOption())
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  steadyrig progress campaign.yaml')
    .action(lazily(async () => (await import('../actions/progress.ts')).progress, exit));
}
