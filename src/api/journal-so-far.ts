import { stat } from 'node:fs/promises';
import { firstSum } from '../journal/format.ts';
import { type Journal, readJournal } from '../journal/reader.ts';
import { ok, type Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';

/** Of a sitting in which nothing is recorded yet. */
export const emptyJournal: Journal = {
  runs: [],
  corrections: [],
  validBytes: 0,
  tornBytes: 0,
  lastSum: firstSum,
};

/** What a journal holds, and where it goes on; an absent one is empty, since no run was lost with it. */
export async function journalSoFar(path: string): Promise<Result<Journal, Problem>> {
  const isThere = await stat(path).then(
    () => true,
    () => false,
  );
  return isThere ? readJournal(path) : ok(emptyJournal);
}
