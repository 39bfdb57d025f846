import { uncertaintyDecimals } from '../../lib/uncertainty-decimals.ts';
import type { OverallRow } from '../../model/comparison.ts';
import { labelledLines } from '../labelled-lines.ts';
import { type Axis, renderInterval } from './interval-axis.ts';
import { plainText } from './plain-text.ts';
import { intervalText, ratioText, reachOf } from './ratio-text.ts';

const shownWorkloads = 12;

/** The index over all workloads, to scale, and what it would be without each of them. */
export function overallLines(row: OverallRow, axis: Axis, width: number): string[] {
  if (row.ratio === null || row.workloads < 2) return [];
  const left = `over all, ${row.workloads} workloads`;
  const numbers = `${ratioText(row)}  ${intervalText(row)}`;
  const plot = renderInterval(axis, row);
  return [
    `${left.padEnd(38)}${numbers}`,
    `${'  geometric mean of ratios'.padEnd(width - axis.width)}${plot}`,
    ...(row.flags.length === 0 ? [] : [`  ! ${row.flags.join(', ')}`]),
    ...withoutText(row, width),
  ];
}

function withoutText(row: OverallRow, width: number): string[] {
  if (row.without.length < 2) return [];
  const decimals = uncertaintyDecimals(reachOf(row)) ?? 3;
  const sorted = row.without.toSorted((one, other) => one.ratio - other.ratio);
  const shown =
    sorted.length <= shownWorkloads ? sorted : [...sorted.slice(0, 3), ...sorted.slice(-3)];
  const texts = shown.map(
    ({ workload, ratio }) => `${plainText(workload)} ${ratio.toFixed(decimals)}`,
  );
  if (shown.length < sorted.length) texts.splice(3, 0, '…');
  return [...labelledLines(`without one of them: ${texts.join(', ')}`, '  ', width)];
}
