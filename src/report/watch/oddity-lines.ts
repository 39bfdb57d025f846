import type { RunRecord } from '../../model/run.ts';
import type { Oddities } from '../../model/watch.ts';
import { runName, runResult } from '../event-line.ts';
import { wrapText } from '../text-table.ts';

/** What was odd so far, one line or more for each kind; empty when nothing was. */
export function oddityLines(oddities: Oddities, width: number): readonly string[] {
  const { failures, retried, disturbed, throttled, parked, interruptions, damage } = oddities;
  const kinds = Object.entries(disturbed).map(([code, count]) => `${count} by ${code}`);
  const texts = [
    ...(damage === null ? [] : [`runs.jsonl is damaged, ${damage}; what follows is not shown`]),
    ...failures.map(failureText),
    ...(parked.length === 0 ? [] : [`parked, too many failed in a row: ${parked.join(', ')}`]),
    ...(retried === 0 ? [] : [`${counted(retried, 'further attempt')} at a run`]),
    ...(kinds.length === 0 ? [] : [`runs disturbed: ${kinds.join(', ')}`]),
    ...(throttled === 0 ? [] : [`${counted(throttled, 'run')} SLOWED BY HEAT`]),
    ...(interruptions === 0 ? [] : [`interrupted ${counted(interruptions, 'time')} before`]),
  ];
  if (texts.length === 0) return [];
  const lines = texts.map((text) => wrapText(`! ${text}`, width - 2, '    ').replace(/^/gm, '  '));
  return ['', 'odd', ...lines.flatMap((line) => line.split('\n'))];
}

function failureText(record: RunRecord): string {
  const name = runName({ ...record, index: record.plan, conditional: false });
  const attempt = record.attempt > 1 ? `, attempt ${record.attempt}` : '';
  return `${name}${attempt}: ${runResult(record)}`;
}

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}
