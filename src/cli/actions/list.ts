import { isMarkedInvented } from '../../model/is-marked-invented.ts';
import { parkedWorkloads } from '../../model/parked-workloads.ts';
import { standingRuns } from '../../model/standing-runs.ts';
import { renderSittingList } from '../../report/sitting-page.ts';
import { listSittings } from '../../results/list-sittings.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { print, printJson, printProblems } from '../print.ts';

interface ListFlags {
  readonly results: string;
  readonly json?: true;
}

export async function list({ results, json }: ListFlags): Promise<ExitCode> {
  const listed = await listSittings(results);
  if (!listed.ok) {
    printProblems([listed.error]);
    return exitCodes.badInput;
  }
  const { sittings, problems } = listed.value;
  if (json) {
    const rows = sittings.map(({ sitting, runs, corrections, sealed, folder }) => {
      const standing = standingRuns(runs, corrections);
      return {
        id: sitting.id,
        folder,
        rig: sitting.rig,
        suite: sitting.suite.resolved.id,
        digest: sitting.suite.resolved.digest,
        startedAt: sitting.startedAt,
        state: sitting.state,
        imported: sitting.imported !== null,
        invented: isMarkedInvented(sitting.conditions.notes),
        sealed,
        runs: standing.length,
        failedRuns: standing.filter(({ outcome }) => outcome === 'failed').length,
        attempts: runs.length,
        parked: [...parkedWorkloads(sitting.suite.resolved, runs).keys()],
      };
    });
    printJson({ sittings: rows, problems });
  } else {
    print(renderSittingList(sittings));
    printProblems(problems);
  }
  return problems.length === 0 ? exitCodes.fine : exitCodes.failed;
}
