import type { SittingEntry } from '../model/sitting-entry.ts';
import { renderTable } from './text-table.ts';

/** Sittings as a table of 80 columns, in the order given. */
export function renderSittingList(sittings: readonly SittingEntry[]): string {
  if (sittings.length === 0) return 'no sittings here';
  return renderTable(
    [
      { title: 'started (UTC)', align: 'left' },
      { title: 'rig', align: 'left' },
      { title: 'suite', align: 'left' },
      { title: 'runs', align: 'right' },
      { title: 'failed', align: 'right' },
      { title: 'state', align: 'left' },
      { title: 'id ends', align: 'left' },
    ],
    sittings.map((entry) => [
      entry.startedAt.slice(0, 16).replace('T', ' '),
      entry.rig,
      entry.suite,
      String(entry.runs),
      String(entry.failedRuns),
      listState(entry),
      entry.id.slice(-4),
    ]),
  );
}

function listState({ invented, imported, sealed, state, parked }: SittingEntry): string {
  return [
    ...(invented ? ['invented'] : []),
    ...(imported ? ['imported'] : []),
    sealed && state !== 'cut-short' ? 'sealed' : state,
    ...(parked.length === 0 ? [] : [`${parked.length} parked`]),
  ].join(', ');
}
