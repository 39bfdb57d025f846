import type { PrecisionRow, PrecisionStudy } from '../model/precision.ts';
import { formatPercent } from './quantity.ts';
import { type Column, renderTable, shorten, wrapText } from './text-table.ts';

const pageWidth = 80;
const labelWidth = 25;

const columns: readonly Column[] = [
  { title: 'workload, metric'.padEnd(labelWidth), align: 'left' },
  { title: 'runs', align: 'right' },
  { title: 'within', align: 'right' },
  { title: 'between', align: 'right' },
  { title: 'single', align: 'right' },
  { title: 'limit', align: 'right' },
  { title: 'finds', align: 'right' },
];

const meanings = [
  'within: standard deviation of the repeats of one sitting (repeatability, s_r).',
  'between: of sittings beyond that (s_b); 0 where they lie no further apart than their repeats explain.',
  'single: of single runs of different sittings (intermediate precision, s_I).',
  'limit: two repeats of one sitting lie further apart in one case of twenty (repeatability limit, 2.8 s_r).',
  'finds: the smallest difference that one such sitting a side finds four times out of five (80 % power, 5 % level).',
];

/** A precision study as a page of 80 columns: what each figure means, and how far it can be trusted. */
export function renderStudy(study: PrecisionStudy): string {
  return [
    ...headLines(study),
    '',
    ...(study.rows.length === 0
      ? ['no workload has a precision']
      : [renderRows(study.rows), '', ...meanings.map(wrapped)]),
    ...section(
      study.untold.map(({ workload, metric, reason }) => `! ${workload} ${metric}: ${reason}`),
    ),
    ...section(cautions(study).map((text) => `! ${text}`)),
  ].join('\n');
}

function headLines({
  rig,
  suite,
  digest,
  sittings,
  assemblies,
  boots,
  excludedRuns,
}: PrecisionStudy): readonly string[] {
  const spread = [
    `${sittings.length} sittings`,
    assemblies === null ? 'assemblies not told' : counted(assemblies, 'assembly', 'assemblies'),
    boots === null ? 'boots not told' : counted(boots, 'boot', 'boots'),
    ...(excludedRuns === 0
      ? []
      : [`${counted(excludedRuns, 'excluded run', 'excluded runs')} left out`]),
  ];
  return [
    `precision of ${rig}: suite ${suite}, digest ${digest.slice(0, 12)}`,
    spread.join(', '),
    ...sittings.map((id) => `  ${id}`),
  ].map(wrapped);
}

function renderRows(rows: readonly PrecisionRow[]): string {
  const workloads = [...new Set(rows.map(({ workload }) => workload))];
  return renderTable(
    columns,
    workloads.flatMap((workload) => [
      [shorten(workload, labelWidth)],
      ...rows.filter((row) => row.workload === workload).map(cellsOf),
    ]),
  );
}

function cellsOf(row: PrecisionRow): readonly string[] {
  const arrow = row.better === 'higher' ? '↑' : '↓';
  return [
    shorten(`  ${row.metric} ${arrow}`, labelWidth),
    `${row.runs} in ${row.sittings}`,
    percentOf(row.sr),
    percentOf(row.sb),
    percentOf(row.si),
    percentOf(row.repeatabilityLimit),
    percentOf(row.detectable),
  ];
}

function percentOf(fraction: number | null): string {
  if (fraction === null) return '–';
  return formatPercent(fraction);
}

/** What makes the figures too small, or rough. */
function cautions({
  sittings,
  assemblies,
  boots,
  unchecked,
  rows,
}: PrecisionStudy): readonly string[] {
  const found: string[] = [];
  if (boots === 1) {
    found.push(
      'all sittings are of one boot: what a reboot changes (memory layout, clocks) is not in it, so "between" and "finds" are too small; reboot between the sittings of a study',
    );
  } else if (boots !== null && boots < sittings.length) {
    found.push(`only ${boots} boots in ${sittings.length} sittings: "between" may be too small`);
  }
  if (assemblies === 1) {
    found.push(
      'all sittings are of one assembly: for rigs that are taken apart and rebuilt, re-seat the parts between the sittings of a study',
    );
  }
  if (boots === null || assemblies === null) {
    found.push('whether the rig was rebooted or re-seated between is not told for every sitting');
  }
  if (sittings.length < 5) {
    found.push(
      `from ${sittings.length} sittings "between" is known only roughly, and tests have few degrees of freedom; five or more tell much more`,
    );
  }
  if (rows.some(({ sr }) => sr === null))
    found.push('one run a sitting: "between" holds the spread within a sitting too');
  if (rows.some(({ detectable }) => detectable === null))
    found.push('where no two runs differ, there is no smallest difference to find');
  return [...found, ...unchecked];
}

function section(lines: readonly string[]): readonly string[] {
  return lines.length === 0 ? [] : ['', ...lines.map(wrapped)];
}

function wrapped(line: string): string {
  const indent = line.startsWith('  ') ? '    ' : '  ';
  return line.startsWith('  ') ? line : wrapText(line, pageWidth, indent);
}

function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}
