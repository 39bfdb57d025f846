import { type Command, Option } from 'commander';
import { addMeasuringOptions, collectAnswer, resultsOption } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const after = `
Examples:
  steadyrig next campaign.yaml --dry-run   what comes next, and nothing else
  steadyrig next campaign.yaml
  steadyrig next campaign.yaml --condition ambient="22 °C" --unattended
  steadyrig next campaign.yaml --accept "firmware updated by the shop"

Where parts are to be swapped it shows cautions and the parts, and waits. Swap
with the machine off and call it again when it is up: it asks whether the parts
are in, compares what it finds with what was to be expected, and measures.
--json shows the step as --dry-run does.`;

export function defineNext(program: Command, exit: Exit): void {
  const command = program
    .command('next')
    .description('lead to the next sitting of a campaign: swap parts, check the rig, measure')
    .argument('<campaign>', 'campaign file')
    .addOption(resultsOption())
    .option('--dry-run', 'only show what comes next')
    .option('--acknowledge', 'the cautions before a swap and before a long load are accepted')
    .option('--swapped', 'the parts are in as listed, those that software cannot see too')
    .option('--accept <reason>', 'measure although something is unexpected, and record why')
    .addOption(
      new Option('--condition <id=answer>', 'what the campaign asks for; may be repeated')
        .argParser(collectAnswer)
        .default({}, 'none'),
    )
    .option('--leave-open', 'begin a new sitting although one is open');
  addMeasuringOptions(command)
    .addHelpText('after', after)
    .action(lazily(async () => (await import('../actions/next.ts')).next, exit));
}
