import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { err, ok, type Result } from '../lib/result.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { isSittingId } from '../results/layout.ts';

/** Folder of a sitting: a path, an id, the unique end of an id, or `latest`. */
export function findSitting(given: string, results: string): Result<string, Problem> {
  if (existsSync(join(given, 'data')) || existsSync(join(given, 'bagit.txt'))) return ok(given);
  const ids = sittingIds(results);
  const found = given === 'latest' ? ids.slice(-1) : ids.filter((id) => id.endsWith(given));
  const [first] = found;
  if (first !== undefined && found.length === 1) return ok(join(results, first));
  const message =
    found.length > 1
      ? `${given} fits ${found.length} sittings in ${results}: ${found.join(', ')}; give more of the id`
      : `no sitting ${given} in ${results}: give a folder, an id of steadyrig list, or another --results folder`;
  return err(plainProblem('folder-invalid', message));
}

function sittingIds(results: string): readonly string[] {
  if (!existsSync(results)) return [];
  return readdirSync(results, { withFileTypes: true })
    .filter((entry) => isSittingId(entry.name) && !entry.isSymbolicLink())
    .map(({ name }) => name)
    .sort();
}
