import type { Detection, DetectionRow, Effort } from '../model/detection.ts';
import { formatDuration, formatPercent } from './quantity.ts';
import { type Column, renderTable, shorten, wrapText } from './text-table.ts';

const labelWidth = 25;

/** What it takes to find a difference, as a page of 80 columns; `asked` is the rig whose study was asked for. */
export function renderDetection(detection: Detection, asked: string | null): string {
  const { difference, repeats, rows, whole, untold } = detection;
  const columns: readonly Column[] = [
    { title: 'workload, metric'.padEnd(labelWidth), align: 'left' },
    { title: `sittings of ${repeats}`, align: 'right' },
    { title: 'time', align: 'right' },
    { title: 'best split', align: 'right' },
    { title: 'time', align: 'right' },
  ];
  const body = rows.map((row) => [labelOf(row), ...cellsOf(row.asWritten, row.best)]);
  if (rows.length > 1) body.push(['all of them together', ...cellsOf(whole.asWritten, whole.best)]);
  return [
    `to find a difference of ${formatPercent(difference)} four times out of five, each side needs`,
    '',
    renderTable(columns, body),
    '',
    ...notesOf(detection, asked).map((text) => wrapText(text, 80, '  ')),
    ...untold.map(({ workload, metric, reason }) =>
      wrapText(`! ${workload} ${metric}: ${reason}`, 80, '  '),
    ),
  ].join('\n');
}

function labelOf({ workload, metric }: DetectionRow): string {
  return shorten(`${workload} ${metric}`, labelWidth);
}

function cellsOf(asWritten: Effort | null, best: Effort | null): readonly string[] {
  return [
    asWritten === null ? 'too many' : String(asWritten.sittings),
    timeOf(asWritten),
    best === null ? '–' : `${best.sittings} × ${best.repeats}`,
    timeOf(best),
  ];
}

function timeOf(effort: Effort | null): string {
  return effort === null || effort.seconds === null ? '–' : formatDuration(effort.seconds);
}

function notesOf(detection: Detection, asked: string | null): readonly string[] {
  const { study, sittingSeconds, rows, whole } = detection;
  const { rig, at, sittings } = study;
  const other = asked === null || asked === rig ? '' : `, not of ${asked}, which has none`;
  const notes = [
    `By the precision study of ${rig} (${at.slice(0, 10)}, ${sittings} sittings)${other}; 80 % power at a level of 5 % for each figure looked at alone. A comparison of many figures asks more of each.`,
    `Times are of one side: ${formatDuration(sittingSeconds)} for each sitting beside its runs (--sitting-cost), warm-ups, runs and cooldowns as the study took them. The best split takes the least: sittings × repeats.`,
  ];
  const efforts = [...rows, whole].flatMap((row) => [row.asWritten, row.best]);
  if (efforts.some((effort) => effort?.sittings === 1))
    notes.push('One sitting a side rests on the study; two or more speak for themselves.');
  if (efforts.some((effort) => effort === null))
    notes.push('Too many: more than 100 sittings; make the sittings themselves more alike.');
  return notes;
}
