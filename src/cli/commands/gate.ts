import { type Command, InvalidArgumentError, Option } from 'commander';
import { unsurePolicies } from '../../model/gate.ts';
import {
  asOption,
  cacheOption,
  confidenceOption,
  jsonOption,
  portableMeterOption,
  profileOption,
  resultsOption,
  scratchOption,
  wholeNumber,
} from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';
import { parsePercentage } from '../parse-percentage.ts';

const after = `
Examples:
  steadyrig gate bench.yaml --baseline main
  steadyrig gate bench.yaml --baseline main --allow 3% --allow parse=10%
  steadyrig gate bench.yaml --interleave ../main --pairs 4
  steadyrig gate bench.yaml --baseline main --junit gate.xml --markdown gate.md

Ends with 0 where the candidate passes, 1 where a figure is worse than allowed,
5 where it cannot be told and that is to fail.`;

export function defineGate(program: Command, exit: Exit): void {
  program
    .command('gate')
    .description('measure a candidate and fail where it is worse than allowed, for CI')
    .argument('<suite>', 'suite file')
    .addOption(new Option('--baseline <name>', 'as set by baseline set').conflicts('interleave'))
    .option('--interleave <folder>', 'measure another checkout in turn, as the baseline')
    .addOption(
      new Option('--pairs <number>', 'with --interleave: sittings of each to begin with')
        .argParser(wholeNumber(50))
        .default(3),
    )
    .option(
      '--allow <percentage>',
      'how much worse a figure may be, also workload=percentage (default: the difference that matters of the suite; repeatable)',
      collectAllowed,
    )
    .addOption(
      new Option('--when-unsure <policy>', 'what to do where it cannot be told')
        .choices(unsurePolicies)
        .default('measure-more'),
    )
    .option(
      '--time-budget <duration>',
      'begin no further sitting after so long, such as 20min',
      '30min',
    )
    .addOption(
      new Option('--most-sittings <number>', 'of the candidate')
        .argParser(wholeNumber(99))
        .default(4),
    )
    .option('--rig <label>', 'label of the candidate’s sittings', 'candidate')
    .addOption(profileOption())
    .addOption(resultsOption())
    .option('--baselines <file>', 'file of the baselines', '.steadyrig/baselines.json')
    .addOption(confidenceOption())
    .option('--acknowledge', 'the cautions before a long load are read and accepted')
    .addOption(scratchOption())
    .addOption(cacheOption())
    .addOption(portableMeterOption())
    .addOption(asOption())
    .option('--no-telemetry', 'do not sample the sensors meanwhile')
    .option('--markdown <file>', 'write a comment for a pull request')
    .option('--junit <file>', 'write JUnit XML')
    .option('--tap <file>', 'write TAP version 14')
    .addOption(jsonOption())
    .addHelpText('after', after)
    .action(lazily(async () => (await import('../actions/gate.ts')).gate, exit));
}

export interface Allowed {
  readonly all: number | null;
  readonly of: ReadonlyMap<string, number>;
}

function collectAllowed(text: string, known: Allowed = { all: null, of: new Map() }): Allowed {
  const parts = /^(?:([a-z0-9-]+)=)?(.+)$/.exec(text);
  const [, workload, written = ''] = parts ?? [];
  const fraction = parsePercentage(written, { least: 0, most: 10 });
  if (workload === undefined) return { ...known, all: fraction };
  if (known.of.has(workload))
    throw new InvalidArgumentError(`${workload} is allowed something already`);
  return { ...known, of: new Map([...known.of, [workload, fraction]]) };
}
