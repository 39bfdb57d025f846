import { type Command, Option } from 'commander';
import { addMeasuringOptions, resultsOption, wholeNumber } from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const after = `
Examples:
  steadyrig again bench-a hash-one       of its latest sitting
  steadyrig again bench-a hash-one --of 9f3c

Measures that workload alone in a new sitting of the same suite and says whether
the two agree, beside a precision study or the other sittings of the rig. Both
are kept, nothing is replaced.`;

export function defineAgain(program: Command, exit: Exit): void {
  const command = program
    .command('again')
    .description('repeat an odd result in a new sitting, and say whether it came back')
    .argument('<rig>', 'label of this machine as it is now built')
    .argument('<workload>', 'id of the workload')
    .addOption(resultsOption())
    .option('--of <sitting>', 'the sitting with the odd result; left out, the latest of the rig')
    .option('--suite <file>', 'the suite file, where the record does not hold all of it')
    .addOption(
      new Option('--assembly <number>', 'where the rig was rebuilt since').argParser(
        wholeNumber(9999),
      ),
    )
    .option('--ambient <temperature>', 'room temperature, such as "22 °C"')
    .option('--notes <text>', 'anything worth remembering about this sitting')
    .option('--acknowledge', 'the cautions before a long load are read and accepted')
    .option('--accept-changes', 'go on although the rig has changed since');
  addMeasuringOptions(command)
    .addHelpText('after', after)
    .action(lazily(async () => (await import('../actions/again.ts')).again, exit));
}
