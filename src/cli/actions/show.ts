import { dirname, resolve } from 'node:path';
import { openRuns } from '../../api/open-runs.ts';
import { type StoredSummary, summarizeStored } from '../../api/summarize-stored.ts';
import { renderExclusions } from '../../report/exclusion-lines.ts';
import { renderSitting } from '../../report/sitting-page.ts';
import { readExclusions } from '../../results/read-exclusions.ts';
import { readSitting, type StoredSitting } from '../../results/read-sitting.ts';
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
  const excluded = await readExclusions(dirname(resolve(stored.value.folder)));
  const shown = summarizeStored(stored.value, excluded.ok ? excluded.value.lines : []);
  if (json) printJson({ ...stored.value, ...shown });
  else print(page(stored.value, shown));
  if (excluded.ok) return exitCodes.fine;
  printProblems([excluded.error]);
  return exitCodes.failed;
}

function page(stored: StoredSitting, shown: StoredSummary): string {
  const { sitting, runs } = stored;
  const open = openRuns(sitting.suite.resolved, sitting, stored);
  const main = renderSitting(stored, shown.summary, open.byHand);
  if (shown.summaryWithoutExcluded === null) return main;
  return [
    main,
    '',
    ...renderExclusions(runs, shown.exclusions, shown.summary, shown.summaryWithoutExcluded),
  ].join('\n');
}
