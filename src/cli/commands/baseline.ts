import type { Command } from 'commander';
import { jsonOption, resultsOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const file = ['--baselines <file>', 'file of the baselines', '.steadyrig/baselines.json'] as const;

export function defineBaseline(program: Command, exit: Exit): void {
  const baseline = program
    .command('baseline')
    .description('name sealed sittings that gate compares with')
    .addHelpText('after', '\nExample:\n  steadyrig baseline set main runner-1:latest-3');
  baseline
    .command('set')
    .description('point a name at sealed sittings of one rig')
    .argument('<name>', 'such as main')
    .argument('<sittings>', 'as a side of compare: a rig, an id, several by commas')
    .addOption(resultsOption())
    .option(...file)
    .option('--replace', 'although the name is taken')
    .addHelpText('after', '\nExample:\n  steadyrig baseline set main runner-1:latest-3 --replace')
    .action(lazily(async () => (await import('../actions/baseline.ts')).setNamed, exit));
  baseline
    .command('list')
    .description('print the names and what they point at')
    .option(...file)
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  steadyrig baseline list')
    .action(lazily(async () => (await import('../actions/baseline.ts')).listNamed, exit));
}
