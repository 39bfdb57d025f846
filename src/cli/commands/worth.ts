import type { Command } from 'commander';
import { jsonOption, noVerifyOption, resultsOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

export function defineWorth(program: Command, exit: Exit): void {
  program
    .command('worth')
    .description('say what the rigs of a campaign cost and what they give for it')
    .argument('<campaign>', 'campaign file')
    .addOption(resultsOption())
    .addOption(noVerifyOption())
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  steadyrig worth campaign.yaml')
    .action(lazily(async () => (await import('../actions/worth.ts')).worth, exit));
}
