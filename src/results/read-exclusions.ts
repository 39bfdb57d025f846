import { dirname, resolve } from 'node:path';
import { firstSum } from '../journal/format.ts';
import { type Chain, lineProblem, parseLines } from '../journal/lines.ts';
import { reasonOf } from '../lib/file-faults.ts';
import { mostLinesBytes, readOwnFile } from '../lib/own-file.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { Exclusion } from '../model/exclusion.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { exclusionRecordSchema } from '../model/schemas/exclusion-schema.ts';
import { parseRecord } from '../model/schemas/parse-record.ts';
import { exclusionsPath } from './layout.ts';

export interface Exclusions extends Chain {
  readonly path: string;
  /** In the order they were made; those taken back too. `exclusionsInForce` and `includedRuns` say which count. */
  readonly lines: readonly Exclusion[];
}

/**
 * The runs excluded in a results folder; none where the file is not there. Codes: `file-unreadable`, `journal-damaged`,
 * `record-invalid`, `schema-too-new`.
 */
export async function readExclusions(results: string): Promise<Result<Exclusions, Problem>> {
  const path = exclusionsPath(results);
  let bytes: Buffer;
  try {
    bytes = await readOwnFile(path, mostLinesBytes);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') {
      return ok({ path, lines: [], validBytes: 0, tornBytes: 0, lastSum: firstSum });
    }
    const message = `cannot be read: ${reasonOf(error)}`;
    return err(plainProblem('file-unreadable', message, path));
  }
  const lines: Exclusion[] = [];
  const chain = parseLines(bytes, path, (record, line) => {
    const parsed = parseRecord(
      record,
      'exclusion',
      exclusionRecordSchema,
      (at) => `not an exclusion: ${at}`,
    );
    if (!parsed.ok) return lineProblem(parsed.error.code, path, line, parsed.error.message);
    lines.push(parsed.value);
    return null;
  });
  if (chain.ok) return ok({ path, lines, ...chain.value });
  if (chain.error.code !== 'journal-damaged') return chain;
  const message = `${chain.error.message}; rename the file and exclude its runs anew`;
  return err({ ...chain.error, message });
}

/** The lines of every results folder in which one of these sittings lies. */
export async function readExclusionsBeside(
  sittingFolders: readonly string[],
): Promise<Result<readonly Exclusion[], Problem>> {
  const lines: Exclusion[] = [];
  for (const results of new Set(sittingFolders.map((folder) => dirname(resolve(folder))))) {
    const read = await readExclusions(results);
    if (!read.ok) return read;
    lines.push(...read.value.lines);
  }
  return ok(lines);
}
