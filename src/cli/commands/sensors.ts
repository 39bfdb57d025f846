import type { Command } from 'commander';
import { jsonOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

export function defineSensors(program: Command, exit: Exit): void {
  program
    .command('sensors')
    .description('print the sensors of this machine and what they say now')
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  steadyrig sensors --json > idle.json')
    .action(lazily(async () => (await import('../actions/sensors.ts')).sensors, exit));
}
