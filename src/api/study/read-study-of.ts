import { ok, type Result } from '../../lib/result.ts';
import type { PrecisionStudy } from '../../model/precision.ts';
import type { Problem } from '../../model/problem.ts';
import type { Suite } from '../../model/suite.ts';
import { readStudies } from '../../results/read-studies.ts';

export interface StudyRead {
  readonly study: PrecisionStudy | null;
  /** Studies that could not be read. */
  readonly problems: readonly Problem[];
}

/** The latest study in a results folder that speaks of this suite: of this rig if there is one, else of any; null where none does. */
export async function readStudyOf(
  suite: Suite,
  rig: string | null,
  results: string,
): Promise<Result<StudyRead, Problem>> {
  const read = await readStudies(results);
  if (!read.ok) return read;
  const { studies, problems } = read.value;
  const fitting = studies
    .map((stored) => stored.study)
    .filter(({ digest }) => digest === suite.digest);
  const study = fitting.findLast((one) => one.rig === rig) ?? fitting.at(-1) ?? null;
  return ok({ study, problems });
}
