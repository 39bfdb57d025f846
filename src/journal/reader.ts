import { readFile } from 'node:fs/promises';
import { compileCheck } from '../lib/compile-check.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';
import { type Correction, correctionSchema, type RunRecord } from '../model/run.ts';
import { parseRecord } from '../model/schemas/parse-record.ts';
import { correctionRecordSchema, runRecordSchema } from '../model/schemas/run-schema.ts';
import { attemptFault } from './check-attempt.ts';
import { correctionFault } from './check-correction.ts';
import type { JournalEntry } from './format.ts';
import { type Chain, lineProblem, parseLines } from './lines.ts';

export interface Journal extends Chain {
  /** Every attempt, in the order they were made. */
  readonly runs: readonly RunRecord[];
  /** In the order they were made. */
  readonly corrections: readonly Correction[];
}

/** Reads a journal from disk; see `parseJournal`. */
export async function readJournal(path: string): Promise<Result<Journal, Problem>> {
  let bytes: Buffer;
  try {
    bytes = await readFile(path);
  } catch (error) {
    const message = `cannot be read: ${(error as Error).message}`;
    return err({ code: 'file-unreadable', file: path, line: null, column: null, message });
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
  const runs: RunRecord[] = [];
  const last = new Map<number, RunRecord>();
  const corrections: Correction[] = [];
  const chain = parseLines(bytes, path, (record, line) => {
    const entry = parseEntry(record, path, line);
    if (!entry.ok) return entry.error;
    const fault = entryFault(entry.value, last, corrections);
    if (fault !== null) return lineProblem('journal-damaged', path, line, fault);
    if (isCorrection(entry.value)) corrections.push(entry.value);
    else {
      runs.push(entry.value);
      last.set(entry.value.plan, entry.value);
    }
    return null;
  });
  return chain.ok ? ok({ runs, corrections, ...chain.value }) : chain;
}

/** Nearly every line is a good run: those are told quickly, and all others are left to the definition. */
const isRunRecord = compileCheck(runRecordSchema);

export function isCorrection(entry: JournalEntry): entry is Correction {
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

/** A line of the journal as a record, from its decoded value. */
export function parseEntry(
  value: unknown,
  path: string,
  line: number,
): Result<JournalEntry, Problem> {
  if (isRunRecord(value)) return ok(value);
  const isCorrecting = schemaOf(value).startsWith('steadyrig/correction/');
  const parsed: ReturnType<typeof parseRecord<JournalEntry>> = isCorrecting
    ? parseRecord(value, 'correction', correctionRecordSchema, (at) => `not a correction: ${at}`)
    : parseRecord(value, 'run', runRecordSchema, (at) => `not a run record: ${at}`);
  if (parsed.ok) return parsed;
  return err(lineProblem(parsed.error.code, path, line, parsed.error.message));
}

function schemaOf(value: unknown): string {
  return typeof value === 'object' && value !== null && 'schema' in value
    ? String(value.schema)
    : '';
}
