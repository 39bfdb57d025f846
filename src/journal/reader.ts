import { readFile } from 'node:fs/promises';
import { err, ok, type Result } from '../lib/result.ts';
import type { Problem, ProblemCode } from '../model/problem.ts';
import type { RunRecord } from '../model/run.ts';
import { runRecordSchema } from '../model/schemas/run-schema.ts';
import { tooNew } from '../model/schemas/version.ts';
import { decodeLine, firstSum } from './format.ts';

export interface Journal {
  readonly runs: readonly RunRecord[];
  /** Bytes of whole, good lines. */
  readonly validBytes: number;
  /** Bytes after them: a last line that was being written when the machine stopped. 0 in a whole journal. */
  readonly tornBytes: number;
  readonly lastSum: string;
}

/** Reads a journal from disk; see `parseJournal`. */
export async function readJournal(path: string): Promise<Result<Journal, Problem>> {
  let bytes: Buffer;
  try {
    bytes = await readFile(path);
  } catch (error) {
    return err(
      problem('file-unreadable', path, null, `cannot be read: ${(error as Error).message}`),
    );
  }
  return parseJournal(bytes, path);
}

/**
 * The runs of a journal. A last line without its line feed, or a tail of NUL bytes (what some file systems leave
 * after a power cut), is torn: it was never acknowledged and is left out. Damage anywhere else is an error with
 * its line. Duplicates of a planned run are damage too.
 */
export function parseJournal(bytes: Buffer, path: string): Result<Journal, Problem> {
  const end = bytes.length - trailingNuls(bytes);
  const runs: RunRecord[] = [];
  const seen = new Set<number>();
  let position = 0;
  let sum = firstSum;
  for (let number = 1; position < end; number += 1) {
    const feed = bytes.indexOf(0x0a, position);
    if (feed === -1 || feed >= end) {
      if (!isTorn(bytes.toString('utf8', position, end))) {
        return err(
          problem(
            'journal-damaged',
            path,
            number,
            'damaged: the line feed after a whole line is not there',
          ),
        );
      }
      break;
    }
    const line = decodeLine(bytes.toString('utf8', position, feed), sum);
    if (!line.ok) return err(problem('journal-damaged', path, number, `damaged: ${line.reason}`));
    const run = parseRun(line.value, path, number);
    if (!run.ok) return run;
    if (seen.has(run.value.plan)) {
      return err(
        problem('journal-damaged', path, number, `planned run ${run.value.plan} is recorded twice`),
      );
    }
    seen.add(run.value.plan);
    runs.push(run.value);
    sum = line.sum;
    position = feed + 1;
  }
  return ok({ runs, validBytes: position, tornBytes: bytes.length - position, lastSum: sum });
}

function parseRun(value: unknown, path: string, line: number): Result<RunRecord, Problem> {
  const newer = tooNew(value, 'run');
  if (newer !== null) return err(problem('schema-too-new', path, line, newer));
  const parsed = runRecordSchema.safeParse(value);
  if (parsed.success) return ok(parsed.data);
  const first = parsed.error.issues[0];
  return err(
    problem(
      'record-invalid',
      path,
      line,
      `not a run record: ${first?.path.join('.') ?? ''} ${first?.message ?? ''}`,
    ),
  );
}

/** A torn line is the beginning of a line: nothing can follow its checksum. */
function isTorn(text: string): boolean {
  return !/,"sum":"[0-9a-f]{32}"\}./s.test(text);
}

function trailingNuls(bytes: Buffer): number {
  let count = 0;
  while (count < bytes.length && bytes[bytes.length - 1 - count] === 0) count += 1;
  return count;
}

function problem(code: ProblemCode, file: string, line: number | null, message: string): Problem {
  return { code, file, line, column: null, message };
}
