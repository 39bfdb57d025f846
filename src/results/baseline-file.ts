import { existsSync } from 'node:fs';
import { dirname } from 'node:path';
import { makeFoldersDurably, writeFileDurably } from '../lib/durable-fs.ts';
import { readSmallFile } from '../lib/read-small-file.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { type Baselines, baselinesSchema } from '../model/baselines.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { baselinesDefinition } from '../model/schemas/baselines-schema.ts';

const mostBytes = 2 ** 22;

/** The named baselines of a file; none where it is not there. Codes: `file-unreadable`, `file-too-large`, `record-invalid`. */
export async function readBaselines(path: string): Promise<Result<Baselines, Problem>> {
  if (!existsSync(path)) return ok({ schema: baselinesSchema, baselines: {} });
  const bytes = await readSmallFile(path, mostBytes, 'a file of baselines');
  if (!bytes.ok) return err(plainProblem(bytes.error.code, bytes.error.message, path));
  let value: unknown;
  try {
    value = JSON.parse(bytes.value.toString('utf8'));
  } catch (error) {
    return err(plainProblem('record-invalid', `not JSON: ${(error as Error).message}`, path));
  }
  const parsed = baselinesDefinition.safeParse(value);
  if (parsed.success) return ok(parsed.data);
  const [issue] = parsed.error.issues;
  const where = issue?.path.join('.') ?? '';
  return err(
    plainProblem('record-invalid', `not a file of baselines: ${where}: ${issue?.message}`, path),
  );
}

/** Sorted by name, so that a change is a few lines of a diff. Rejects where it cannot be written. */
export async function writeBaselines(path: string, { baselines }: Baselines): Promise<void> {
  const sorted = Object.fromEntries(
    Object.entries(baselines).sort(([one], [other]) => (one < other ? -1 : 1)),
  );
  await makeFoldersDurably(dirname(path));
  const text = JSON.stringify({ schema: baselinesSchema, baselines: sorted }, null, 2);
  await writeFileDurably(path, `${text}\n`);
}
