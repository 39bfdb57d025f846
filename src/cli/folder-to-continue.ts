import { err, ok, type Result } from '../lib/result.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { unfinishedSittings } from '../results/unfinished-sittings.ts';
import { findSitting } from './find-sitting.ts';

/** Folder of the sitting that is meant: as given, else the newest that can be continued. */
export async function folderToContinue(
  given: string | undefined,
  results: string,
): Promise<Result<string, Problem>> {
  if (given !== undefined) return findSitting(given, results);
  const [newest] = await unfinishedSittings(results);
  if (newest !== undefined) return ok(newest.folder);
  const message = `no sitting in ${results} is open or interrupted: name one, or another --results folder`;
  return err(plainProblem('folder-invalid', message));
}
