import type { SittingEntry } from '../../model/sitting-entry.ts';
import { renderSittingList } from '../../report/sitting-list.ts';
import { listEntries } from '../../results/list-entries.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { indexPlace } from '../index-place.ts';
import { print, printJson, printProblems } from '../print.ts';

interface ListFlags {
  readonly results: string;
  readonly json?: true;
}

export async function list({ results, json }: ListFlags): Promise<ExitCode> {
  const listed = await listEntries(results, indexPlace());
  if (!listed.ok) {
    printProblems([listed.error]);
    return exitCodes.badInput;
  }
  const { entries, problems } = listed.value;
  if (json) {
    printJson({ sittings: entries.map(listedRow), problems });
  } else {
    print(renderSittingList(entries));
    printProblems(problems);
  }
  return problems.length === 0 ? exitCodes.fine : exitCodes.failed;
}

function listedRow(entry: SittingEntry): Omit<SittingEntry, 'levels' | 'isAgain' | 'accepted'> {
  const { id, folder, rig, suite, digest, startedAt, state } = entry;
  const { imported, invented, sealed, runs, failedRuns, attempts, parked } = entry;
  return {
    ...{ id, folder, rig, suite, digest, startedAt, state },
    ...{ imported, invented, sealed, runs, failedRuns, attempts, parked },
  };
}
