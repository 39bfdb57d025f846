import { lstat, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { readOwnFile } from '../../../lib/own-file.ts';
import { sittingPaths } from '../../../results/layout.ts';

/**
 * Logs of runs, by the path that they are published under. Names as the tool writes them only, of files and of sittings: another
 * might lead out of the folder. Links are passed over, a linked folder too.
 */
export async function readLogs(
  sittings: ReadonlyMap<string, string>,
): Promise<ReadonlyMap<string, string>> {
  const found = new Map<string, string>();
  for (const [sitting, folder] of sittings) {
    const { logs } = sittingPaths(folder);
    const isFolder = (await lstat(logs).catch(() => null))?.isDirectory() === true;
    if (!isFolder || !/^[A-Za-z0-9][A-Za-z0-9._-]*$/.test(sitting)) continue;
    const entries = await readdir(logs, { withFileTypes: true }).catch(() => []);
    for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1)))
      if (entry.isFile() && /^[0-9]+[a-z0-9.-]*\.txt$/.test(entry.name))
        found.set(`logs/${sitting}/${entry.name}`, await readLog(join(logs, entry.name)));
  }
  return found;
}

async function readLog(path: string): Promise<string> {
  return (await readOwnFile(path)).toString('utf8');
}
