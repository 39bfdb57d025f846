import { existsSync } from 'node:fs';
import { realpath } from 'node:fs/promises';
import { extname } from 'node:path';
import { type Export, exportFigures, type FigureFormat } from '../../api/export-figures.ts';
import { writeFileDurably } from '../../lib/durable-fs.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import { renderExportNotes } from '../../report/exchange-notes.ts';
import { liesBeside } from '../../results/layout.ts';
import { listSittings } from '../../results/list-sittings.ts';
import { readExclusionsBeside } from '../../results/read-exclusions.ts';
import { readSitting, type StoredSitting } from '../../results/read-sitting.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { findSitting } from '../find-sitting.ts';
import { printError, printExactly, printProblems } from '../print.ts';

interface ExportFlags {
  readonly results: string;
  readonly format?: FigureFormat;
  readonly out: string;
}

const endings: Readonly<Record<string, FigureFormat>> = {
  '.csv': 'csv',
  '.jsonl': 'jsonl',
  '.ndjson': 'jsonl',
  '.parquet': 'parquet',
};

export async function exportSittings(
  given: readonly string[],
  { results, format, out }: ExportFlags,
): Promise<ExitCode> {
  const chosen = format ?? endings[extname(out).toLowerCase()] ?? 'csv';
  const fault = outFault(out, chosen);
  const read = fault === null ? await readGiven(given, results) : err([fault]);
  if (!read.ok) {
    printProblems(read.error);
    return exitCodes.badInput;
  }
  const { sittings, problems } = read.value;
  const exclusions = await readExclusionsBeside(sittings.map(({ folder }) => folder));
  if (!exclusions.ok) {
    printProblems([exclusions.error]);
    return exitCodes.badInput;
  }
  const exported = exportFigures(sittings, chosen, exclusions.value);
  if (!exported.ok) {
    printProblems([exported.error]);
    return exitCodes.badInput;
  }
  const written = await write(exported.value, out);
  if (written !== null) {
    printProblems([written]);
    return exitCodes.badInput;
  }
  printError(renderExportNotes(exported.value, out));
  printProblems(problems);
  return problems.length === 0 ? exitCodes.fine : exitCodes.failed;
}

function outFault(out: string, format: FigureFormat): Problem | null {
  if (out === '-') {
    if (format !== 'parquet') return null;
    return optionProblem('Parquet is no text: name a file with --out, such as figures.parquet');
  }
  if (!existsSync(out)) return null;
  return optionProblem(`--out ${out} is there already: name another file, or remove that one`);
}

interface Given {
  readonly sittings: readonly StoredSitting[];
  /** Of folders that cannot be read when all are exported. */
  readonly problems: readonly Problem[];
}

async function readGiven(
  given: readonly string[],
  results: string,
): Promise<Result<Given, readonly Problem[]>> {
  if (given.length === 0) {
    const listed = await listSittings(results);
    return listed.ok ? listed : err([listed.error]);
  }
  const sittings = new Map<string, StoredSitting>();
  for (const name of given.filter((path) => !liesBeside(path))) {
    const folder = findSitting(name, results);
    const stored = folder.ok ? await readSitting(folder.value) : folder;
    if (!stored.ok) return err([stored.error]);
    sittings.set(await realpath(stored.value.folder), stored.value);
  }
  return ok({ sittings: [...sittings.values()], problems: [] });
}

async function write({ content }: Export, out: string): Promise<Problem | null> {
  if (out === '-') {
    printExactly(content);
    return null;
  }
  try {
    await writeFileDurably(out, content);
    return null;
  } catch (error) {
    const message = `cannot be written: ${(error as Error).message}`;
    return plainProblem('write-failed', message, out);
  }
}

function optionProblem(message: string): Problem {
  return plainProblem('option-invalid', message);
}
