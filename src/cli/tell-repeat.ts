import { dirname, join } from 'node:path';
import { judgeRepeated } from '../api/repeat-workload.ts';
import type { SittingOutcome } from '../api/run-sitting.ts';
import { ok, type Result } from '../lib/result.ts';
import { formatProblem, type Problem } from '../model/problem.ts';
import type { RepeatJudgement } from '../model/repeat-judgement.ts';
import { isFinished, type RepeatedWorkload } from '../model/sitting.ts';
import { renderRepeat } from '../report/repeat-page.ts';
import { readSitting, type StoredSitting } from '../results/read-sitting.ts';
import type { Addition } from './conduct.ts';
import { printError } from './print.ts';

/**
 * Whether an odd result came back in a sitting that repeats it. Null for other sittings, and where it is not finished: continuing
 * it tells. The earlier one lies beside it unless given.
 */
export async function tellRepeat(
  { folder, state, sitting }: SittingOutcome,
  given: StoredSitting | null = null,
): Promise<Addition | null> {
  const { again } = sitting;
  if (again === undefined || !isFinished(state)) return null;
  const judged = await judge(again, folder, given);
  if (judged.ok) return { page: renderRepeat(judged.value), json: { repeat: judged.value } };
  printError(formatProblem(judged.error));
  return null;
}

async function judge(
  { of, workload }: RepeatedWorkload,
  folder: string,
  given: StoredSitting | null,
): Promise<Result<RepeatJudgement, Problem>> {
  const earlier = given === null ? await readSitting(join(dirname(folder), of)) : ok(given);
  if (!earlier.ok) return earlier;
  const later = await readSitting(folder);
  return later.ok ? judgeRepeated(workload, earlier.value, later.value) : later;
}
