import type { Command } from 'commander';
import { jsonOption, resultsOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

export function defineVerify(program: Command, exit: Exit): void {
  program
    .command('verify')
    .description(
      'compare sealed sittings with their seals: which file is damaged, missing or extra',
    )
    .argument('[sittings...]', 'folders, ids or ends of ids, or latest')
    .addOption(resultsOption())
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  steadyrig verify results/*')
    .action(lazily(async () => (await import('../actions/verify.ts')).verify, exit));
}
