import { compileCheck } from '../lib/compile-check.ts';
import { reasonOf } from '../lib/file-faults.ts';
import { mostLinesBytes, readOwnFile } from '../lib/own-file.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { type Correction, correctionSchema, type RunRecord } from '../model/run.ts';
import { parseRecord } from '../model/schemas/parse-record.ts';
import { correctionRecordSchema, runRecordSchema } from '../model/schemas/run-schema.ts';
import { attemptFault, type RunBefore } from './check-attempt.ts';
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
    bytes = await readOwnFile(path, mostLinesBytes);
  } catch (error) {
    return err(plainProblem('file-unreadable', `cannot be read: ${reasonOf(error)}`, path));
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
  const corrections: Correction[] = [];
  const check = entryCheck(path);
  const chain = parseLines(bytes, path, (record, line) => {
    const entry = check(record, line);
    if (!entry.ok) return entry.error;
    if (isCorrection(entry.value)) corrections.push(entry.value);
    else runs.push(entry.value);
    return null;
  });
  return chain.ok ? ok({ runs, corrections, ...chain.value }) : chain;
}

/** Nearly every line is a good run: those are told quickly, and all others are left to the definition. */
const isRunRecord = compileCheck(runRecordSchema);

export function isCorrection(entry: JournalEntry): entry is Correction {
  return entry.schema === correctionSchema;
}

/**
 * A check of the decoded lines of one journal, to be given each in order: the line as a record, or why it is none or does not fit those
 * before it. Keeps of the runs before only what that takes.
 */
export function entryCheck(
  path: string,
): (value: unknown, line: number) => Result<JournalEntry, Problem> {
  const last = new Map<number, RunBefore>();
  const corrections: Correction[] = [];
  return (value, line) => {
    const parsed = parseEntry(value, path, line);
    if (!parsed.ok) return parsed;
    const entry = parsed.value;
    const before = last.get(entry.plan);
    const fault = isCorrection(entry)
      ? correctionFault(entry, before, corrections)
      : attemptFault(entry, before);
    if (fault !== null) return err(lineProblem('journal-damaged', path, line, fault));
    if (isCorrection(entry)) corrections.push(entry);
    else {
      const { attempt, workload, phase, round, entry: by, metrics } = entry;
      last.set(entry.plan, { attempt, workload, phase, round, entry: by, metrics });
    }
    return parsed;
  };
}

/** A line of the journal as a record, from its decoded value. */
function parseEntry(value: unknown, path: string, line: number): Result<JournalEntry, Problem> {
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
