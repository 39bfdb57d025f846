import type { RigChange } from '../model/sitting.ts';
import { wrapText } from './text-table.ts';

const width = 80;

/** What moved in a rig since its sitting began, before and after, and what can be done. */
export function renderChanges(changes: readonly RigChange[]): string {
  const lines = changes.map(({ path, from, to }) =>
    wrapText(`${path}: was ${from ?? 'absent'}, is ${to ?? 'absent'}`, width, '  '),
  );
  const what = changes.length === 1 ? '1 thing has' : `${changes.length} things have`;
  const advice = `refuse (changed): since the sitting began, ${what} changed, and runs before and after would be of two rigs; change it back, or measure a new sitting, or go on with --accept-changes, which records them`;
  return [...lines, wrapText(advice, width, '  ')].join('\n');
}
