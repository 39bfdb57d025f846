import { stringify } from 'csv-stringify/sync';
import type { Report } from '../../model/report.ts';

/** Tables of a report by file name, as CSV (RFC 4180, UTF-8, base units). */
export function reportTables(report: Report): ReadonlyMap<string, string> {
  return new Map([
    ['figures.csv', figures(report)],
    ['runs.csv', runs(report)],
    ['comparisons.csv', comparisons(report)],
    ['inventory.csv', inventory(report)],
  ]);
}

type Cell = string | number | null;

/** A text that a spreadsheet would take for a formula gets an apostrophe before it. Numbers are written so that they read back as the same double. */
function csv(columns: readonly string[], rows: readonly (readonly Cell[])[]): string {
  const cell = (value: Cell): string => (value === null ? '' : guarded(value));
  return stringify([columns, ...rows.map((row) => row.map(cell))], { record_delimiter: 'windows' });
}

function guarded(value: string | number): string {
  return typeof value === 'string' && /^[=+\-@\t\r]/.test(value) ? `'${value}` : String(value);
}

function figures({ metrics }: Report): string {
  const columns =
    'workload,metric,unit,better,rig,mean,low,high,median,cv,basis,runs,sittings,excluded'.split(
      ',',
    );
  return csv(
    columns,
    metrics.flatMap(({ workload, metric, unit, better, rigs }) =>
      rigs.map((own) => {
        const counting = own.runs.filter(({ excluded }) => excluded === null);
        const sittings = new Set(counting.map(({ sitting }) => sitting)).size;
        return [
          ...[workload, metric, unit, better, own.rig, own.mean, own.low, own.high],
          ...[own.median, own.cv, own.basis, counting.length, sittings],
          own.runs.length - counting.length,
        ];
      }),
    ),
  );
}

function runs({ metrics }: Report): string {
  return csv(
    'workload,metric,unit,rig,sitting,repeat,value,excluded,marks'.split(','),
    metrics.flatMap(({ workload, metric, unit, rigs }) =>
      rigs.flatMap(({ rig, runs: own }) =>
        own.map(({ sitting, repeat, value, excluded, marks }) => [
          ...[workload, metric, unit, rig, sitting, repeat, value, excluded, marks.join(' ')],
        ]),
      ),
    ),
  );
}

function comparisons({ comparisons: all }: Report): string {
  const columns =
    'baseline,candidate,workload,metric,ratio,low,high,p,adjusted_p,basis,verdict,flags'.split(',');
  return csv(
    columns,
    all.flatMap(({ baseline, rows }) =>
      rows.map((row) => [
        ...[baseline, row.candidate, row.workload, row.metric, row.ratio, row.low, row.high],
        ...[row.p, row.adjustedP, row.basis, row.verdict, row.flags.join(' ')],
      ]),
    ),
  );
}

function inventory({ inventory: rows, rigs }: Report): string {
  return csv(
    ['part', 'reading', 'path', 'differs', 'declared', ...rigs.map(({ label }) => label)],
    rows.map(({ part, title, path, differs, declared, values }) => [
      ...[part, title, path, differs ? 'yes' : 'no', declared ? 'yes' : 'no', ...values],
    ]),
  );
}
