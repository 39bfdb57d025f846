import type { Command } from 'commander';
import {
  confidenceOption,
  jsonOption,
  mattersOption,
  noVerifyOption,
  resultsOption,
} from '../arguments.ts';
import { type Exit, lazily } from '../lazily.ts';

const examples = `
Name a campaign file, or rigs as for compare, the baseline first.

Examples:
  steadyrig report campaign.yaml
  steadyrig report bench-a bench-b --out boards.html
  steadyrig report campaign.yaml --text
  steadyrig report campaign.yaml --charts slides --only index
  steadyrig report campaign.yaml --markdown > post.md
  steadyrig report campaign.yaml --publish boards-2026`;

export function defineReport(program: Command, exit: Exit): void {
  program
    .command('report')
    .description('write a page about a campaign or rigs that can be published as it is')
    .argument('<rigs...>', 'campaign file, or rigs as for compare')
    .option('--out <file>', 'the page (default: report.html)')
    .option('--replace', 'write over files that are there already')
    .option('--baseline <rig>', 'another baseline than the first or the campaign’s')
    .addOption(resultsOption())
    .option('--suite <suite>', 'name of the suite to report, or the start of its digest')
    .addOption(mattersOption('of the campaign or suite'))
    .addOption(confidenceOption())
    .option('--allow-revision', 'compare other revisions of suite and programs all the same')
    .addOption(noVerifyOption())
    .option('--text', 'print the answer, the verdicts and the warnings instead')
    .option('--markdown', 'print Markdown for a forum or a repository instead')
    .addOption(jsonOption())
    .option('--tables <folder>', 'write all figures as CSV too')
    .option(
      '--charts <folder>',
      'write the charts as SVG and PNG too, 1920 by 1080, light and dark',
    )
    .option('--only <chart>', 'with --charts: only this one, such as index or price')
    .option('--transparent', 'with --charts: without a background')
    .option(
      '--publish <folder>',
      'write all of it into a new folder to put on the web, scrubbed once more and sealed',
    )
    .option('--with-logs', 'with --publish: the logs of the runs too')
    .addHelpText('after', examples)
    .action(lazily(async () => (await import('../actions/report.ts')).report, exit));
}
