import { join } from 'node:path';
import { ok, type Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';
import { countRuns, type SittingEntry, sittingHeader } from '../model/sitting-entry.ts';
import type { IndexPlace } from './index/index-place.ts';
import { type FolderLook, ResultsIndex } from './index/results-index.ts';
import { listSittingNames } from './sitting-names.ts';

export interface EntryList {
  /** Oldest first. */
  readonly entries: readonly SittingEntry[];
  /** Folders that look like sittings but cannot be read. */
  readonly problems: readonly Problem[];
}

/**
 * A line for each sitting directly below a folder. Sealed folders that are as they were when the index was written are not
 * read; `index` null: all are. Codes: `folder-invalid`.
 */
export async function listEntries(
  results: string,
  place: IndexPlace | null,
): Promise<Result<EntryList, Problem>> {
  const names = await listSittingNames(results);
  if (!names.ok) return names;
  const index = await ResultsIndex.open(results, place);
  const entries: SittingEntry[] = [];
  const problems: Problem[] = [];
  for (const name of names.value) {
    const look = index.look(name);
    if (look.header !== null && look.counts !== null) {
      entries.push({ ...look.header, ...look.counts, sealed: true });
      continue;
    }
    const read = await readEntry(join(results, name), name, look, index);
    if (read.ok) entries.push(read.value);
    else problems.push(read.error);
  }
  await index.keep(names.value);
  return ok({ entries, problems });
}

async function readEntry(
  folder: string,
  name: string,
  look: FolderLook,
  index: ResultsIndex,
): Promise<Result<SittingEntry, Problem>> {
  // Loaded here: where the index knows all, the definitions of the files are not needed, and loading them takes longest.
  const { readSittingUnfrozen } = await import('./read-sitting.ts');
  const read = await readSittingUnfrozen(folder);
  if (!read.ok) return read;
  const { sitting, runs, corrections, sealed } = read.value;
  const header = sittingHeader(folder, sitting);
  const counts = countRuns(sitting, runs, corrections);
  index.note(name, look, header, counts);
  return ok({ ...header, ...counts, sealed });
}
