import { join } from 'node:path';
import { err, ok, type Result } from '../../lib/result.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import { listSittingNames } from '../sitting-names.ts';
import { readUnderWay } from '../under-way.ts';

/** Folder of the sitting under way in a results folder: of several that never ended the one heard of last. */
export async function findUnderWay(results: string): Promise<Result<string, Problem>> {
  const names = await listSittingNames(results);
  if (!names.ok) return names;
  const found = await Promise.all(
    names.value.map(async (name) => ({
      folder: join(results, name),
      beatAt: (await readUnderWay(join(results, name)))?.beatAt ?? null,
    })),
  );
  const [latest] = found
    .flatMap(({ folder, beatAt }) => (beatAt === null ? [] : [{ folder, at: Date.parse(beatAt) }]))
    .sort((one, other) => other.at - one.at);
  if (latest !== undefined) return ok(latest.folder);
  const message = `no sitting is under way in ${results}: steadyrig show prints the latest one; name a sitting, or another --results folder`;
  return err(plainProblem('folder-invalid', message));
}
