import { readdir } from 'node:fs/promises';
import { err, ok, type Result } from '../lib/result.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { isSittingId } from './layout.ts';

/** Names of the folders that look like sittings, oldest first. Nothing of them is read. */
export async function listSittingNames(
  results: string,
): Promise<Result<readonly string[], Problem>> {
  try {
    return ok((await readdir(results)).filter(isSittingId).sort());
  } catch (error) {
    const message = `cannot be listed: ${(error as Error).message}`;
    return err(plainProblem('folder-invalid', message, results));
  }
}
