import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { parseLines } from '../journal/lines.ts';
import { reasonOf } from '../lib/file-faults.ts';
import { readOwnFile } from '../lib/own-file.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { PrecisionStudy } from '../model/precision.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { parseRecord } from '../model/schemas/parse-record.ts';
import { precisionStudySchema } from '../model/schemas/precision-schema.ts';
import { studiesPath } from './layout.ts';

export interface StudyList {
  /** Oldest first. */
  readonly studies: readonly StoredStudy[];
  /** Files that look like studies but cannot be trusted. */
  readonly problems: readonly Problem[];
}

export interface StoredStudy {
  readonly path: string;
  readonly study: PrecisionStudy;
}

/** The precision studies of a results folder; none where it has no such folder. Other files there are left alone. */
export async function readStudies(results: string): Promise<Result<StudyList, Problem>> {
  const folder = studiesPath(results);
  let names: string[];
  try {
    names = (await readdir(folder)).filter((name) => name.endsWith('.json')).sort();
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT')
      return ok({ studies: [], problems: [] });
    return err(plainProblem('folder-invalid', `cannot be listed: ${reasonOf(error)}`, folder));
  }
  const studies: StoredStudy[] = [];
  const problems: Problem[] = [];
  for (const name of names) {
    const path = join(folder, name);
    const study = await readStudy(path);
    if (study.ok) studies.push({ path, study: study.value });
    else problems.push(study.error);
  }
  const byTime = studies.sort(
    (one, other) => Date.parse(one.study.at) - Date.parse(other.study.at),
  );
  return ok({ studies: byTime, problems });
}

/** One study: a file of one line in the format of the journal. */
async function readStudy(path: string): Promise<Result<PrecisionStudy, Problem>> {
  let bytes: Buffer;
  try {
    bytes = await readOwnFile(path);
  } catch (error) {
    return err(plainProblem('file-unreadable', `cannot be read: ${reasonOf(error)}`, path));
  }
  const records: unknown[] = [];
  const chain = parseLines(bytes, path, (record) => {
    records.push(record);
    return null;
  });
  if (!chain.ok || chain.value.tornBytes > 0 || records.length !== 1) {
    const what = chain.ok ? 'it is not one whole line' : chain.error.message;
    const message = `not the study as it was written (${what}); remove it and make it anew with steadyrig precision`;
    return err(plainProblem('journal-damaged', message, path));
  }
  const [record] = records;
  const parsed = parseRecord(
    record,
    'precision',
    precisionStudySchema,
    (at) => `not a precision study: ${at}`,
  );
  return parsed.ok ? parsed : err(plainProblem(parsed.error.code, parsed.error.message, path));
}
