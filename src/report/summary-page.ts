import type { RunRecord } from '../model/run.ts';
import type { LeftOut } from '../model/sitting.ts';
import type { SittingSummary, SummaryFlag, SummaryRow } from '../model/summary.ts';
import { formatNumber, formatPercent, scaleFor } from './quantity.ts';
import { renderRunNotes } from './run-notes.ts';
import { renderStrip } from './strip.ts';
import { type Column, renderTable, shorten, wrapText } from './text-table.ts';

const pageWidth = 80;
const stripWidth = 24;
const metricWidth = 25;

/** Of `summaryCells`. */
export const summaryColumns: readonly Column[] = [
  { title: 'workload, metric, unit'.padEnd(metricWidth), align: 'left' },
  { title: 'n', align: 'right' },
  { title: 'mean', align: 'right' },
  { title: '95 % interval', align: 'left' },
  { title: 'median', align: 'right' },
  { title: 'CV', align: 'right' },
];

/** What each flag says below the table. */
const flagTexts: Readonly<Record<SummaryFlag, string>> = {
  'one-value': 'one value: no interval, no spread',
  'wide-interval': 'the interval reaches further than 10 % from the mean',
  bound: 'some runs gave only an upper bound',
  'failed-runs': 'failed runs have no figure here',
  adaptive: 'repeats ended once the interval was narrow enough, so it runs a little short of 95 %',
  'excluded-runs': 'runs that the operator excluded are in it; below without them too',
};

/** The figures of a sitting as a page of 80 columns, notes below. Warm-ups do not count. */
export function renderSummary(
  summary: SittingSummary,
  runs: readonly RunRecord[],
  leftOut: readonly LeftOut[] = [],
): string {
  const cells: string[][] = [];
  const lines: (string | null)[] = [];
  for (const { workload, title, ok, failed } of summary.workloads) {
    const count = failed === 0 ? '' : ` (${failed} of ${ok + failed} FAILED)`;
    lines.push(shorten(`${workload}: ${title}`, pageWidth - count.length) + count);
    const rows = summary.rows.filter((row) => row.workload === workload);
    const reason = leftOut.find((one) => one.workload === workload)?.reason;
    if (reason !== undefined)
      lines.push(
        ...wrapText(
          `${rows.length === 0 ? 'left out' : 'left out of the rest'}: ${reason}`,
          pageWidth - 2,
          '  ',
        )
          .split('\n')
          .map((line) => `  ${line}`),
      );
    else if (rows.length === 0) lines.push('  no good run measured');
    for (const row of rows) {
      cells.push([...summaryCells(row)]);
      lines.push(null, ...stripLines(row));
    }
  }
  const [titles = '', rule = '', ...figures] = renderTable(summaryColumns, cells).split('\n');
  const body = lines.map((line) => line ?? figures.shift() ?? '');
  const notes = [...renderFlags(summary), ...renderRunNotes(runs)];
  return [titles, rule, ...body, '', ...notes, ...(notes.length > 0 ? [''] : []), legend].join(
    '\n',
  );
}

const legend = wrapText(
  'h: harmonic mean, used for rates. ↑ more is better, ↓ less is better. CV: standard deviation over mean. The interval (Student’s t) speaks of this sitting alone: the next one, after a reboot or a rebuild, may lie elsewhere.',
  pageWidth,
);

/** The cells of a row, in the scale of `like`: rows that belong together compare at a glance. */
export function summaryCells(row: SummaryRow, like: SummaryRow = row): readonly string[] {
  const { factor, symbol } = scaleFor(row.unit, like.values);
  const figure = (value: number): string => formatNumber(value / factor);
  const arrow = row.better === 'higher' ? '↑' : '↓';
  const interval = row.interval;
  return [
    shorten(
      `  ${[row.metric, symbol, arrow].filter((part) => part !== '').join(' ')}`,
      metricWidth,
    ),
    String(row.values.length),
    figure(row.mean) + (row.meanKind === 'harmonic' ? 'h' : ' '),
    interval === null ? '–' : `${figure(interval.low)} … ${figure(interval.high)}`,
    figure(row.median),
    row.variation === null ? '–' : formatPercent(row.variation),
  ];
}

/** Smallest and largest value with the runs between them, and the row's flags; nothing where the row itself says it all. */
function stripLines(row: SummaryRow): readonly string[] {
  const { factor } = scaleFor(row.unit, row.values);
  const figure = (value: number): string => formatNumber(value / factor);
  const strip = renderStrip(row.values, stripWidth);
  const others = row.flags.filter((flag) => flag !== 'one-value');
  const flags = others.length === 0 ? '' : `  ! ${others.join(', ')}`;
  const range = row.values.length === 1 ? '' : `${figure(row.min)} [${strip}] ${figure(row.max)}`;
  return `${range}${flags}` === '' ? [] : [`    ${range}${flags}`];
}

function renderFlags(summary: SittingSummary): readonly string[] {
  const used = new Set(summary.rows.flatMap(({ flags }) => flags));
  return [...used].map((flag) => wrapText(`! ${flag}: ${flagTexts[flag]}`, pageWidth, '  '));
}
