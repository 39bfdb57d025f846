import type { RunRecord } from './run.ts';
import type { LeftOut, Sitting } from './sitting.ts';
import type { Suite } from './suite.ts';

/**
 * Workloads that are left out of the rest, each with the reason as a clause: their last `parkAfter` attempts all failed.
 * Attempts that the operator ended say nothing about the workload and do not count. Derived from the records alone, so
 * that a sitting that is continued parks as one that was not interrupted.
 */
export function parkedWorkloads(
  { parkAfter, workloads }: Pick<Suite, 'parkAfter' | 'workloads'>,
  runs: readonly RunRecord[],
): ReadonlyMap<string, string> {
  const parked = new Map<string, string>();
  for (const { id } of workloads) {
    const own = runs.filter(
      ({ workload, failure }) => workload === id && failure?.code !== 'stopped-by-operator',
    );
    const last = own.slice(-parkAfter);
    const failed = last.flatMap(({ failure }) => (failure === null ? [] : [failure.code]));
    if (failed.length < parkAfter) continue;
    const codes = [...new Set(failed)].join(', ');
    const runsText = parkAfter === 1 ? 'a run failed' : `${parkAfter} runs failed in a row`;
    parked.set(id, `${runsText} (${codes})`);
  }
  return parked;
}

/** Workloads without all their runs, and why: left out from the start, or parked since. */
export function leftOutWorkloads(
  { leftOut, suite }: Pick<Sitting, 'leftOut' | 'suite'>,
  runs: readonly RunRecord[],
): readonly LeftOut[] {
  const parked = [...parkedWorkloads(suite.resolved, runs)];
  return [
    ...leftOut,
    ...parked.map(([workload, reason]) => ({ workload, reason: `parked, ${reason}` })),
  ];
}
