import { openRuns } from '../../api/open-runs.ts';
import { renderSitting } from '../../report/sitting-page.ts';
import { readSitting } from '../../results/read-sitting.ts';
import { summarizeSitting } from '../../stats/summarize-sitting.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { findSitting } from '../find-sitting.ts';
import { print, printJson, printProblems } from '../print.ts';

interface ShowFlags {
  readonly results: string;
  readonly json?: true;
}

export async function show(given: string, { results, json }: ShowFlags): Promise<ExitCode> {
  const folder = findSitting(given, results);
  const stored = folder.ok ? await readSitting(folder.value) : folder;
  if (!stored.ok) {
    printProblems([stored.error]);
    return exitCodes.badInput;
  }
  const { sitting, runs, corrections } = stored.value;
  const summary = summarizeSitting(sitting.suite.resolved, runs, corrections);
  if (json) printJson({ ...stored.value, summary });
  else {
    const open = openRuns(sitting.suite.resolved, sitting, stored.value);
    print(renderSitting(stored.value, summary, open.byHand));
  }
  return exitCodes.fine;
}
