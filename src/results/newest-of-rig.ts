import { join } from 'node:path';
import type { Sitting } from '../model/sitting.ts';
import { mayBeOfRig } from './layout.ts';
import { readSittingFile } from './read-sitting.ts';
import { listSittingNames } from './sitting-names.ts';

/**
 * The sittings of a rig label directly below a folder, the newest first, each read only when it is asked for; at most `most` folders are
 * looked into. Those that cannot be read are passed over; none where the folder is not there.
 */
export async function* newestOfRig(
  results: string,
  rig: string,
  most: number = Number.POSITIVE_INFINITY,
): AsyncGenerator<{ readonly folder: string; readonly sitting: Sitting }> {
  const listed = await listSittingNames(results);
  if (!listed.ok) return;
  const names = listed.value.filter((name) => mayBeOfRig(name, rig)).reverse();
  for (const name of names.slice(0, most)) {
    const folder = join(results, name);
    const read = await readSittingFile(folder);
    if (read.ok && read.value.rig === rig) yield { folder, sitting: read.value };
  }
}
