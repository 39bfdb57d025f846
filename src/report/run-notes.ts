import type { RunRecord } from '../model/run.ts';
import { standingRuns, supersededRuns } from '../model/standing-runs.ts';
import { wrapText } from './text-table.ts';

/**
 * What was odd about the runs, a line for each kind: those that failed, attempts that do not count, and what went on beside
 * those that do. Runs of one workload with the same to tell are together.
 */
export function renderRunNotes(runs: readonly RunRecord[]): readonly string[] {
  const standing = standingRuns(runs, []);
  return [
    ...renderGroups('FAILED', standing, failures),
    ...renderGroups('tried again', supersededRuns(runs), (run) =>
      run.failure === null ? disturbances(run) : failures(run),
    ),
    ...renderDisturbances(standing),
  ];
}

function failures({ failure }: RunRecord): readonly string[] {
  return failure === null ? [] : [`${failure.code}: ${failure.message}`];
}

function disturbances(run: RunRecord): readonly string[] {
  return run.disturbances.map(({ code, message }) => `${code}: ${message}`);
}

/** Runs of one workload disturbed by the same kind of thing are together, though each tells its own figures. */
function renderDisturbances(runs: readonly RunRecord[]): readonly string[] {
  const first = new Map<string, { readonly message: string; readonly others: number }>();
  const seen = runs.flatMap((run) => run.disturbances.map((one) => ({ ...one, run })));
  for (const { code, message, run } of seen) {
    const key = `${run.workload} ${code}`;
    const known = first.get(key);
    if (known === undefined) first.set(key, { message, others: 0 });
    else if (known.message !== message) first.set(key, { ...known, others: known.others + 1 });
  }
  return renderGroups('disturbed', runs, ({ workload, disturbances: own }) => [
    ...new Set(
      own.map(({ code }) => {
        const { message = '', others = 0 } = first.get(`${workload} ${code}`) ?? {};
        return `${code}: ${message}${others === 0 ? '' : `; ${others} more like it`}`;
      }),
    ),
  ]);
}

function renderGroups(
  label: string,
  runs: readonly RunRecord[],
  tell: (run: RunRecord) => readonly string[],
): readonly string[] {
  const groups = new Map<string, { what: string; workload: string; when: string[] }>();
  for (const run of runs) {
    for (const what of tell(run)) {
      const { workload } = run;
      const key = JSON.stringify([workload, what]);
      const group = groups.get(key) ?? { what, workload, when: [] };
      groups.set(key, { ...group, when: [...group.when, `${run.phase} ${run.round}`] });
    }
  }
  return [...groups.values()].map(({ what, workload, when }) =>
    wrapText(`${label} ${workload}, ${when.join(', ')}: ${what}`, 80, '  '),
  );
}
