import { type Command, Option } from 'commander';
import { addMeasuringOptions, resultsOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const examples = `
Examples:
  steadyrig continue                     the newest unfinished sitting
  steadyrig continue 9f3c --suite parts-desk.yaml
  steadyrig continue 9f3c --accept-changes

Same plan, same seed; no finished run is done again. A run that was under way
when the machine went down is recorded as lost, and tried again. Another boot is
recorded; other changes of the rig are listed, and refused unless accepted. A
deadline stays in force unless a new one is given: one that has passed ends the
sitting with the runs that are there.`;

export function defineContinue(program: Command, exit: Exit): void {
  const command = program
    .command('continue')
    .description('take up a sitting that was interrupted, by whatever it was')
    .argument('[sitting]', 'its folder, its id or the end of it; left out, the newest unfinished')
    .addOption(resultsOption())
    .option('--suite <file>', 'the suite file, where the record does not hold all of it')
    .option('--accept-changes', 'go on although the rig has changed, and record what did')
    .addOption(new Option('--from-service', 'as a service started at boot').hideHelp());
  addMeasuringOptions(command)
    .addHelpText('after', examples)
    .action(lazily(async () => (await import('../actions/continue.ts')).continueOne, exit));
}
