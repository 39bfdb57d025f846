import { join } from 'node:path';
import type { Sitting } from '../model/sitting.ts';
import { isSealed, readSittingFile } from './read-sitting.ts';
import { listSittingNames } from './sitting-names.ts';

/** A sitting that was begun and can be taken up again. */
export interface UnfinishedSitting {
  readonly folder: string;
  readonly sitting: Sitting;
}

/**
 * Sittings directly below a folder that have runs to come, or were cut off while they were sealed, the newest first. What cannot be read is left out, and so
 * is everything where the folder is not there.
 */
export async function unfinishedSittings(results: string): Promise<readonly UnfinishedSitting[]> {
  const names = await listSittingNames(results);
  const found: UnfinishedSitting[] = [];
  for (const name of names.ok ? names.value.toReversed() : []) {
    const folder = join(results, name);
    if (isSealed(folder)) continue;
    const sitting = await readSittingFile(folder);
    if (!sitting.ok) continue;
    if (sitting.value.state !== 'waiting') found.push({ folder, sitting: sitting.value });
  }
  return found;
}
