import type { Report, ReportMetric } from '../model/report.ts';
import { plainText } from './comparison/plain-text.ts';
import { ratioText } from './comparison/ratio-text.ts';
import { verdictSigns } from './comparison/verdict-text.ts';
import { labelledLines } from './labelled-lines.ts';
import { type RowFinder, rowFinder } from './page/page-rows.ts';
import { qualityTitles } from './story/quality-titles.ts';
import { type Column, renderTable, shorten } from './text-table.ts';

const pageWidth = 80;
const nameWidth = 26;
/** `− 1.0312`, with the blanks before it. */
const cellWidth = 13;
const rigsAcross = Math.floor((pageWidth - nameWidth) / cellWidth);

/** A report for a terminal: the answer, every verdict, the warnings. */
export function renderReportText(report: Report): string {
  const { title, question, invented, answer, quality, sources } = report;
  const texts = [title, ...(question === null ? [] : [question])];
  return [
    ...(invented ? ['INVENTED DATA, for demonstration', ''] : []),
    ...texts.flatMap((text) => labelledLines(plainText(text), '', pageWidth)),
    '',
    ...answer.flatMap((text) => labelledLines(plainText(text), '* ', pageWidth)),
    '',
    ...matrix(report),
    ...(quality.length === 0 ? ['Nothing odd was noticed about the data.'] : []),
    ...quality.flatMap(({ kind, subject, text }) =>
      labelledLines(
        plainText(`${qualityTitles[kind]}: ${subject === null ? '' : `${subject}: `}${text}`),
        '! ',
        pageWidth,
      ),
    ),
    '',
    ...labelledLines(
      `${sources.length} sittings of ${report.rigs.length} rigs, suite ${report.suite.id} revision ${report.suite.revision}; ${sources.filter(({ isSealChecked }) => isSealChecked).length} seals checked.`,
      '',
      pageWidth,
    ),
  ].join('\n');
}

function matrix(report: Report): string[] {
  const find = rowFinder(report);
  const baseline = report.rigs[0]?.label ?? '';
  const candidates = report.rigs.slice(1).map(({ label }) => label);
  const lines = labelledLines(
    `Against ${baseline}, ratios above 1 better: ${Object.entries(verdictSigns)
      .map(([verdict, sign]) => `${sign} ${verdict}`)
      .join(', ')}`,
    '',
    pageWidth,
  );
  const blocks: string[] = [];
  for (let from = 0; from < candidates.length; from += rigsAcross) {
    const shown = candidates.slice(from, from + rigsAcross);
    blocks.push('', renderTable(columnsOf(shown), rowsOf(report, shown, find)));
  }
  return [...lines, ...blocks, ''];
}

function columnsOf(rigs: readonly string[]): Column[] {
  return [
    { title: 'workload: figure', align: 'left' },
    ...rigs.map((label) => ({
      title: shorten(plainText(label), cellWidth - 2),
      align: 'right' as const,
    })),
  ];
}

function rowsOf(report: Report, rigs: readonly string[], find: RowFinder): string[][] {
  const [{ overall }] = report.comparisons;
  const figures = report.metrics.map((metric) => [
    shorten(plainText(nameOf(metric)), nameWidth - 2),
    ...rigs.map((rig) => {
      const row = find(metric, rig);
      return row === undefined ? 'not compared' : `${verdictSigns[row.verdict]} ${ratioText(row)}`;
    }),
  ]);
  const index = rigs.map((rig) => overall.find(({ candidate }) => candidate === rig));
  if (index.every((row) => row === undefined || row.workloads < 2)) return figures;
  const total = index.map((row) => (row === undefined ? '–' : ratioText(row)));
  return [...figures, ['over all', ...total]];
}

function nameOf({ workload, metric }: ReportMetric): string {
  return `${workload}: ${metric}`;
}
