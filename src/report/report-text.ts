import type { Report, ReportMetric, RigFigures } from '../model/report.ts';
import { plainText } from './comparison/plain-text.ts';
import { ratioText } from './comparison/ratio-text.ts';
import { verdictSigns } from './comparison/verdict-text.ts';
import { labelledLines } from './labelled-lines.ts';
import { figureText, metricScale } from './page/figure-text.ts';
import { type RowFinder, rowFinder } from './page/page-rows.ts';
import { qualityTitles } from './story/quality-titles.ts';
import { type Column, renderTable, shorten, shortenMiddle } from './text-table.ts';

const pageWidth = 80;
const nameWidth = 24;
/** `12.109 GB/s`, with the blanks before it. */
const baselineWidth = 19;
/** `− 1.0312`, with the blanks before it. */
const cellWidth = 12;
const rigsAcross = Math.floor((pageWidth - nameWidth - baselineWidth) / cellWidth);

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
    `Means against those of ${baseline}: ${Object.entries(verdictSigns)
      .map(([verdict, sign]) => `${sign} ${verdict}`)
      .join(', ')}`,
    '',
    pageWidth,
  );
  const blocks: string[] = [];
  for (let from = 0; from < candidates.length; from += rigsAcross) {
    const shown = candidates.slice(from, from + rigsAcross);
    blocks.push('', renderTable(columnsOf(baseline, shown), rowsOf(report, shown, find)));
  }
  return [...lines, ...blocks, ''];
}

function columnsOf(baseline: string, rigs: readonly string[]): Column[] {
  return [
    { title: 'workload: figure', align: 'left' },
    { title: shortenMiddle(plainText(baseline), baselineWidth - 2), align: 'right' },
    ...rigs.map((label) => ({
      title: shortenMiddle(plainText(label), cellWidth - 2),
      align: 'right' as const,
    })),
  ];
}

function rowsOf(report: Report, rigs: readonly string[], find: RowFinder): string[][] {
  const [{ overall }] = report.comparisons;
  const figures = report.metrics.map((metric) => {
    const scale = metricScale(metric);
    const [base] = metric.rigs.filter(({ rig }) => rig === report.rigs[0]?.label);
    const meanOf = (own: RigFigures | undefined): string =>
      own === undefined ? '–' : figureText(own, scale).mean;
    return [
      shorten(plainText(nameOf(metric)), nameWidth - 2),
      shorten(`${meanOf(base)} ${scale.symbol}`.trim(), baselineWidth - 2),
      ...rigs.map((label) => {
        const row = find(metric, label);
        const own = metric.rigs.find(({ rig }) => rig === label);
        return `${row === undefined ? ' ' : verdictSigns[row.verdict]} ${meanOf(own)}`;
      }),
    ];
  });
  const index = rigs.map((rig) => overall.find(({ candidate }) => candidate === rig));
  if (index.every((row) => row === undefined || row.workloads < 2)) return figures;
  const total = index.map((row) => {
    if (row === undefined) return '–';
    return row.flags.includes('baseline-drift') ? 'void' : ratioText(row);
  });
  return [...figures, ['index over all', '1', ...total]];
}

function nameOf({ workload, metric }: ReportMetric): string {
  return `${workload}: ${metric}`;
}
