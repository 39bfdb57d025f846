import { excludeRun } from '../../api/exclude-run.ts';
import { renderExcluded } from '../../report/exclusion-lines.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { findSitting } from '../find-sitting.ts';
import { print, printJson, printProblems } from '../print.ts';

interface ExcludeFlags {
  readonly results: string;
  readonly reason: string;
  readonly takeBack?: boolean;
  readonly json?: true;
}

export async function exclude(
  given: string,
  workload: string,
  round: number,
  { results, reason, takeBack = false, json }: ExcludeFlags,
): Promise<ExitCode> {
  const folder = findSitting(given, results);
  const done = folder.ok
    ? await excludeRun(folder.value, { workload, round, reason, takeBack })
    : folder;
  if (!done.ok) {
    printProblems([done.error]);
    return exitCodes.badInput;
  }
  const { run, exclusion } = done.value;
  if (json) printJson(exclusion);
  else print(renderExcluded(run, exclusion));
  return exitCodes.fine;
}
