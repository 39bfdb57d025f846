import { join } from 'node:path';
import type { Acknowledgement } from '../model/sitting.ts';
import { listSittingNames } from './list-sittings.ts';
import { readSittingFile } from './read-sitting.ts';

/**
 * That the cautions were acknowledged in an earlier sitting of this rig label, and when; null when none of those in the
 * folder says so. Folders that cannot be read do not count.
 */
export async function findAcknowledgement(
  results: string,
  rig: string,
): Promise<Acknowledgement | null> {
  const listed = await listSittingNames(results);
  if (!listed.ok) return null;
  // The newest first: usually the first one that is opened.
  const names = listed.value.filter((name) => name.includes(`-${rig}-`)).reverse();
  for (const name of names) {
    const read = await readSittingFile(join(results, name));
    if (read.ok && read.value.rig === rig && read.value.cautions !== null) {
      return { how: 'earlier', at: read.value.cautions.at };
    }
  }
  return null;
}
