import { openJournal } from '../journal/writer.ts';
import type { Exclusion } from '../model/exclusion.ts';
import type { Exclusions } from './read-exclusions.ts';

/**
 * Adds a line to the exclusions just read; resolves once it is on the disk. A torn tail is cut off. Nobody else may write
 * meanwhile. Rejects when it cannot be written: then the file is as it was.
 */
export async function appendExclusion(
  { path, validBytes, lastSum }: Exclusions,
  exclusion: Exclusion,
): Promise<void> {
  const journal = await openJournal<Exclusion>(path, validBytes, lastSum);
  try {
    await journal.append(exclusion);
  } finally {
    await journal.close();
  }
}
