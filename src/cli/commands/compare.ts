import { type Command, InvalidArgumentError } from 'commander';
import {
  confidenceOption,
  jsonOption,
  mattersOption,
  noVerifyOption,
  resultsOption,
} from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const examples = `
A side is one rig. Name its sittings by
  bench-a               the rig: all its sittings of one suite
  bench-a:latest-3      the latest three of them (:latest, the latest one)
  9f3c                  the end of an id, or the whole id
  results/2026…-9f3c    a folder
  "*-bench-a-*"         a pattern over ids, in quotes; * any characters, ? one
  9f3c,81aa             several of these together

Examples:
  steadyrig compare bench-a bench-b
  steadyrig compare bench-a:latest-3 bench-b:latest-3 bench-c:latest-3
  steadyrig compare bench-a bench-b --matters 1% --markdown > post.md`;

export function defineCompare(program: Command, exit: Exit): void {
  program
    .command('compare')
    .description('say which differences between rigs are real, how large and how sure')
    .argument('<baseline>', 'what the others are measured against')
    .argument('<candidates...>', 'one or more others')
    .addOption(resultsOption())
    .option('--suite <suite>', 'name of the suite to compare, or the start of its digest')
    .addOption(mattersOption('of the suite'))
    .addOption(confidenceOption())
    .option(
      '--weight <workload=number>',
      'how much a workload counts in the index over all (1 unless said; repeatable)',
      collectWeight,
    )
    .option('--allow-revision', 'compare other revisions of suite and programs all the same')
    .addOption(noVerifyOption())
    .option('--markdown', 'print Markdown for a forum instead of text')
    .addOption(jsonOption().conflicts('markdown'))
    .addHelpText('after', examples)
    .action(lazily(async () => (await import('../actions/compare.ts')).compare, exit));
}

function collectWeight(
  text: string,
  known: Readonly<Record<string, number>> = {},
): Readonly<Record<string, number>> {
  const found = /^([a-z0-9-]+)=(\d+(?:\.\d+)?)$/.exec(text);
  if (found?.[1] === undefined) {
    throw new InvalidArgumentError('expected a workload and a number from 0, such as pack=2');
  }
  return { ...known, [found[1]]: Number(found[2]) };
}
