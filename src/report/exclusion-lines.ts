import type { Exclusion } from '../model/exclusion.ts';
import type { RunRecord } from '../model/run.ts';
import type { SittingSummary, SummaryRow } from '../model/summary.ts';
import { summaryCells, summaryColumns } from './summary-page.ts';
import { type Column, renderTable, shorten, wrapText } from './text-table.ts';

const labelWidth = 25;
const columns: readonly Column[] = [
  { title: 'without excluded runs'.padEnd(labelWidth), align: 'left' },
  ...summaryColumns.slice(1),
];

/**
 * The runs that the operator excluded, with their reasons, and the figures of their workloads without and with them. Empty
 * where none is excluded.
 */
export function renderExclusions(
  runs: readonly RunRecord[],
  exclusions: readonly Exclusion[],
  all: SittingSummary,
  without: SittingSummary,
): readonly string[] {
  if (exclusions.length === 0) return [];
  const affected = new Set(
    exclusions
      .map((exclusion) => runOf(runs, exclusion)?.workload)
      .filter((id) => id !== undefined),
  );
  const rows = [...affected].flatMap((workload) => [
    [shorten(workload, labelWidth)],
    ...all.rows
      .filter((row) => row.workload === workload)
      .flatMap((row) =>
        cellsOf(
          row,
          without.rows.find((other) => isSame(row, other)),
        ),
      ),
  ]);
  return [
    ...exclusions.map((exclusion) => renderExclusion(runs, exclusion)),
    '',
    renderTable(columns, rows),
  ];
}

/** What was done, and what it does not do. */
export function renderExcluded(run: RunRecord, exclusion: Exclusion): string {
  const where = `${run.workload}, repeat ${run.round} of ${exclusion.sitting}`;
  const text = exclusion.excluded
    ? `excluded: ${where}: comparisons leave it out, and say so; steadyrig show has the figures with and without it`
    : `taken back: ${where} counts again`;
  return wrapText(text, 80, '  ');
}

/** One excluded run: which, why, since when. */
function renderExclusion(runs: readonly RunRecord[], exclusion: Exclusion): string {
  const run = runOf(runs, exclusion);
  const attempt = exclusion.attempt === 1 ? '' : `, attempt ${exclusion.attempt}`;
  const where =
    run === undefined ? `planned run ${exclusion.plan}` : `${run.workload}, repeat ${run.round}`;
  const text = `EXCLUDED ${where}${attempt}: ${exclusion.reason} (${exclusion.at.slice(0, 10)})`;
  return wrapText(text, 80, '  ');
}

function runOf(runs: readonly RunRecord[], { plan, attempt }: Exclusion): RunRecord | undefined {
  return runs.find((run) => run.plan === plan && run.attempt === attempt);
}

function isSame(one: SummaryRow, other: SummaryRow): boolean {
  return one.workload === other.workload && one.metric === other.metric;
}

function cellsOf(row: SummaryRow, kept: SummaryRow | undefined): readonly (readonly string[])[] {
  const [metric = '', ...withThem] = summaryCells(row);
  const figures = kept === undefined ? ['0', '–'] : summaryCells(kept, row).slice(1);
  return [
    [metric, ...figures],
    ['  with them', ...withThem],
  ];
}
