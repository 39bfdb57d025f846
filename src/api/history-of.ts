import { makeHistory } from '../compare/history/make-history.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { suggest } from '../lib/suggest.ts';
import type { History } from '../model/history.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { readSides, type SideOptions } from './compare/read-sides.ts';
import { toolVersion } from './version.ts';

export interface HistoryOptions extends SideOptions {
  /** Ids of workloads to tell of. Default: all. */
  readonly workloads?: readonly string[];
  /** Sittings that the limits come from, the first ones, 8 or more. Default: half of them, 8 to 20. */
  readonly baseline?: number;
}

/**
 * All sittings of a rig and one suite in time: limits, signals, changes of level, and what else changed beside them (README.md, "A rig
 * in time"). `rig` is a selector as for `compareSittings`. Codes: those of `readSides`, `option-invalid` for a workload that is not there, `not-comparable` for sittings of several suites.
 */
export async function historyOf(
  rig: string,
  { workloads = [], baseline, ...options }: HistoryOptions = {},
): Promise<Result<History, readonly Problem[]>> {
  const read = await readSides([rig], options);
  if (!read.ok) return read;
  const { rigs, notes } = read.value;
  const [side] = rigs;
  if (side === undefined) throw new Error('internal error: a selection without a side');
  const faults = whyUnknown(workloads, [
    ...new Set(side.sittings.flatMap((own) => own.workloads.map(({ workload }) => workload))),
  ]);
  if (faults.length > 0) return err(faults);
  const mixed = mixedProblem(side);
  if (mixed !== null) return err([mixed]);
  return ok(
    makeHistory({
      rig: side.label,
      sittings: side.sittings,
      workloads: workloads.length === 0 ? null : workloads,
      baseline: baseline ?? null,
      tool: toolVersion,
      notes,
    }),
  );
}

function whyUnknown(asked: readonly string[], known: readonly string[]): readonly Problem[] {
  return asked
    .filter((workload) => !known.includes(workload))
    .map((workload) => {
      const near = suggest(workload, known);
      const hint = near === null ? `there are ${known.join(', ')}` : `did you mean ${near}?`;
      return plainProblem('option-invalid', `no workload ${workload} in these sittings: ${hint}`);
    });
}

/** Sittings named one by one may be of several suites. */
function mixedProblem({
  sittings,
}: {
  readonly sittings: Parameters<typeof makeHistory>[0]['sittings'];
}): Problem | null {
  const suites = new Map(sittings.map(({ suite }) => [suite.digest, suite.id]));
  if (suites.size < 2) return null;
  const found = [...suites].map(([digest, id]) => `${id} (digest ${digest.slice(0, 12)})`);
  return plainProblem(
    'not-comparable',
    `a history is of one suite, these sittings are of ${found.join(' and ')}: choose one with --suite`,
  );
}
