import { join } from 'node:path';
import { ok, type Result } from '../../lib/result.ts';
import type { Problem } from '../../model/problem.ts';
import { type SittingHeader, sittingHeader } from '../../model/sitting-entry.ts';
import { type IndexPlace, isWorthIndexing } from '../index/index-place.ts';
import { ResultsIndex } from '../index/results-index.ts';
import { readSittingFile } from '../read-sitting.ts';
import { listSittingNames } from '../sitting-names.ts';

export async function readHeader(folder: string): Promise<Result<SittingHeader, Problem>> {
  const read = await readSittingFile(folder);
  return read.ok ? ok(sittingHeader(folder, read.value)) : read;
}

/** The sittings of a folder, each read at most once, and only when asked for. */
export interface HeaderShelf {
  readonly folder: string;
  /** Of the index that it asks; null for none. */
  readonly place: IndexPlace | null;
  /** Oldest first; none where the folder is not there. */
  readonly names: readonly string[];
  /** Why it cannot be listed; null where it can. */
  readonly problem: Problem | null;
  /** Of those whose names fit, oldest first; the first that cannot be read is the problem. */
  read(fits: (name: string) => boolean): Promise<Result<readonly SittingHeader[], Problem>>;
}

/** `place`: of the index that is asked first, where there are many; null for none. */
export async function openShelf(folder: string, place: IndexPlace | null): Promise<HeaderShelf> {
  const listed = await listSittingNames(folder);
  const names = listed.ok ? listed.value : [];
  const worthwhile = place !== null && isWorthIndexing(names.length, place) ? place : null;
  const index = await ResultsIndex.open(folder, worthwhile);
  const known = new Map<string, SittingHeader>();
  return {
    folder,
    place,
    names,
    problem: listed.ok ? null : listed.error,
    async read(fits) {
      const headers: SittingHeader[] = [];
      for (const name of names.filter(fits)) {
        const found = known.get(name);
        const header = found === undefined ? await readThrough(index, folder, name) : ok(found);
        if (!header.ok) return header;
        known.set(name, header.value);
        headers.push(header.value);
      }
      await index.keep(names);
      return ok(headers);
    },
  };
}

async function readThrough(
  index: ResultsIndex,
  results: string,
  name: string,
): Promise<Result<SittingHeader, Problem>> {
  const look = index.look(name);
  if (look.header !== null) return ok(look.header);
  const header = await readHeader(join(results, name));
  if (header.ok) index.note(name, look, header.value, null);
  return header;
}
