import { open, rm } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { encodeLine, firstSum } from '../journal/format.ts';
import { makeFoldersDurably, syncFolder } from '../lib/durable-fs.ts';
import type { PrecisionStudy } from '../model/precision.ts';
import { studiesPath } from './layout.ts';

/**
 * Writes a study as a file of its own, one line in the format of the journal, and gives its path. Rejects when it cannot be
 * written or is there already: a study is never changed.
 */
export async function writeStudy(results: string, study: PrecisionStudy): Promise<string> {
  const folder = studiesPath(results);
  await makeFoldersDurably(resolve(folder));
  const time = study.at.replace(/[-:]|\.\d+/g, '');
  const path = join(folder, `${study.rig}-${study.suite}-${time}.json`);
  const handle = await open(path, 'wx', 0o644);
  try {
    await handle.writeFile(encodeLine(study, firstSum).text);
    await handle.sync();
  } catch (error) {
    // Half a study would be taken for a damaged one.
    await rm(path, { force: true }).catch(() => undefined);
    throw error;
  } finally {
    await handle.close();
  }
  await syncFolder(folder);
  return path;
}
