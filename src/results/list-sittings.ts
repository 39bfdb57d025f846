import { join } from 'node:path';
import { ok, type Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';
import { readSitting, type StoredSitting } from './read-sitting.ts';
import { listSittingNames } from './sitting-names.ts';

export interface SittingList {
  /** Oldest first. */
  readonly sittings: readonly StoredSitting[];
  /** Folders that look like sittings but cannot be read. */
  readonly problems: readonly Problem[];
}

/** All sittings directly below a folder. Other files and folders there are left alone. */
export async function listSittings(results: string): Promise<Result<SittingList, Problem>> {
  const names = await listSittingNames(results);
  if (!names.ok) return names;
  const sittings: StoredSitting[] = [];
  const problems: Problem[] = [];
  for (const name of names.value) {
    const read = await readSitting(join(results, name));
    if (read.ok) sittings.push(read.value);
    else problems.push(read.error);
  }
  return ok({ sittings, problems });
}
