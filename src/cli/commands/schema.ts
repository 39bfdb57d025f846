import { Argument, type Command } from 'commander';
import { type Exit, lazily } from '../lazily.ts';

export function defineSchema(program: Command, exit: Exit): void {
  program
    .command('schema')
    .description('print the JSON Schema (2020-12) of a file')
    .addArgument(
      new Argument('<file>', 'which file').choices([
        'suite',
        'campaign',
        'sitting',
        'inventory',
        'run',
        'correction',
        'telemetry',
        'precision',
        'exclusion',
        'comparison',
        'effects',
        'inventory-differences',
        'report',
        'gate',
        'baselines',
        'history',
        'worth',
        'notice',
      ]),
    )
    .addHelpText('after', '\nExample:\n  steadyrig schema suite > suite.schema.json')
    .action(lazily(async () => (await import('../actions/schema.ts')).schema, exit));
}
