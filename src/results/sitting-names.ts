import { readdir } from 'node:fs/promises';
import { err, ok, type Result } from '../lib/result.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { isSittingId } from './layout.ts';

/**
 * Names of the folders that look like sittings, oldest first. Nothing of them is read. Links are left out: what they lead to is not in
 * `results`, and may be anybody's.
 */
export async function listSittingNames(
  results: string,
): Promise<Result<readonly string[], Problem>> {
  try {
    const entries = await readdir(results, { withFileTypes: true });
    const found = entries.filter((entry) => isSittingId(entry.name) && !entry.isSymbolicLink());
    return ok(found.map(({ name }) => name).sort());
  } catch (error) {
    const message = `cannot be listed: ${(error as Error).message}`;
    return err(plainProblem('folder-invalid', message, results));
  }
}
