import { readFile } from 'node:fs/promises';
import { err, ok, type Result } from '../lib/result.ts';
import type { Problem, ProblemCode } from '../model/problem.ts';
import { type Correction, correctionSchema, type RunRecord } from '../model/run.ts';
import { correctionRecordSchema, runRecordSchema } from '../model/schemas/run-schema.ts';
import { tooNew } from '../model/schemas/version.ts';
import { attemptFault } from './check-attempt.ts';
import { correctionFault } from './check-correction.ts';
import { decodeLine, firstSum, type JournalEntry } from './format.ts';

export interface Journal {
  /** Every attempt, in the order they were made. */
  readonly runs: readonly RunRecord[];
  /** In the order they were made. */
  readonly corrections: readonly Correction[];
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
 * its line. A gap or a repeat among the attempts at a planned run is damage too, and so are corrections of figures that
 * do not stand.
 */
export function parseJournal(bytes: Buffer, path: string): Result<Journal, Problem> {
  const end = bytes.length - trailingNuls(bytes);
  const runs: RunRecord[] = [];
  const last = new Map<number, RunRecord>();
  const corrections: Correction[] = [];
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
    const entry = parseEntry(line.value, path, number);
    if (!entry.ok) return entry;
    const fault = entryFault(entry.value, last, corrections);
    if (fault !== null) return err(problem('journal-damaged', path, number, fault));
    if (isCorrection(entry.value)) corrections.push(entry.value);
    else {
      runs.push(entry.value);
      last.set(entry.value.plan, entry.value);
    }
    sum = line.sum;
    position = feed + 1;
  }
  return ok({
    runs,
    corrections,
    validBytes: position,
    tornBytes: bytes.length - position,
    lastSum: sum,
  });
}

function isCorrection(entry: JournalEntry): entry is Correction {
  return entry.schema === correctionSchema;
}

/** What does not fit the lines before; null when all does. */
function entryFault(
  entry: JournalEntry,
  last: ReadonlyMap<number, RunRecord>,
  corrections: readonly Correction[],
): string | null {
  const run = last.get(entry.plan);
  return isCorrection(entry) ? correctionFault(entry, run, corrections) : attemptFault(entry, run);
}

function parseEntry(value: unknown, path: string, line: number): Result<JournalEntry, Problem> {
  const isCorrecting = schemaOf(value).startsWith('steadyrig/correction/');
  const newer = tooNew(value, isCorrecting ? 'correction' : 'run');
  if (newer !== null) return err(problem('schema-too-new', path, line, newer));
  const parsed = (isCorrecting ? correctionRecordSchema : runRecordSchema).safeParse(value);
  if (parsed.success) return ok(parsed.data);
  const first = parsed.error.issues[0];
  const what = isCorrecting ? 'a correction' : 'a run record';
  const where = first?.path.join('.') ?? '';
  return err(
    problem('record-invalid', path, line, `not ${what}: ${where} ${first?.message ?? ''}`),
  );
}

function schemaOf(value: unknown): string {
  return typeof value === 'object' && value !== null && 'schema' in value
    ? String(value.schema)
    : '';
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
