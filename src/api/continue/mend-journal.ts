import { openJournal } from '../../journal/writer.ts';
import { sittingPaths } from '../../results/layout.ts';
import type { StoredSitting } from '../../results/read-sitting.ts';
import { journalSoFar } from '../journal-so-far.ts';
import { type LostRun, lostRecord } from './lost-run.ts';

/** Cuts off a torn tail and records the run that was lost. */
export async function mendJournal(
  { sitting, folder }: StoredSitting,
  lost: LostRun | null,
  bootId: string | null,
): Promise<void> {
  const { journal: path } = sittingPaths(folder);
  const read = await journalSoFar(path);
  if (!read.ok) throw new Error(`internal error: ${read.error.message}`);
  const journal = await openJournal(path, read.value.validBytes, read.value.lastSum);
  try {
    const begun = sitting.continuations.at(-1)?.at ?? sitting.startedAt;
    if (lost !== null) {
      await journal.append(lostRecord(lost, begun, bootId, sitting.meter?.name ?? null));
    }
  } finally {
    await journal.close();
  }
}
