import type { Command } from 'commander';
import { jsonOption, resultsOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const examples = `
Examples:
  steadyrig watch                        the sitting under way, until it ends
  steadyrig watch 9f3c --once            its page, once
  ssh bench-a steadyrig watch --json     for another program

Only the files of the sitting are read, and nothing is changed: Ctrl-C leaves,
and the sitting goes on. With --once the exit code is 0 under way or complete,
1 when runs failed, 4 when it was interrupted, waits, or nobody measures it.`;

export function defineWatch(program: Command, exit: Exit): void {
  program
    .command('watch')
    .description('show a sitting under way, from another terminal')
    .argument('[sitting]', 'its folder, its id or the end of it (default: the one under way)')
    .addOption(resultsOption())
    .option('--once', 'print the page once')
    .addOption(jsonOption())
    .addHelpText('after', examples)
    .action(lazily(async () => (await import('../actions/watch.ts')).watch, exit));
}
