import type { ProgramProbe } from '../../model/preparation.ts';
import type { LeftOut } from '../../model/sitting.ts';
import type { Suite } from '../../model/suite.ts';

export interface Kept {
  /** The workloads that can be run, everything else unchanged, the digest too; null where none can. */
  readonly suite: Suite | null;
  readonly leftOut: readonly LeftOut[];
}

/** The suite without the workloads whose programs cannot be used. */
export function leaveOut(suite: Suite, programs: readonly ProgramProbe[]): Kept {
  const unusable = programs.filter(({ fault }) => fault !== null);
  const leftOut = suite.workloads.flatMap(({ id }): LeftOut[] => {
    const reasons = unusable
      .filter(({ workloads }) => workloads.includes(id))
      .map(({ name, fault }) => `program ${name} ${fault}`);
    return reasons.length === 0 ? [] : [{ workload: id, reason: reasons.join('; ') }];
  });
  if (leftOut.length === 0) return { suite, leftOut };
  const out = new Set(leftOut.map(({ workload }) => workload));
  const [first, ...rest] = suite.workloads.filter(({ id }) => !out.has(id));
  return { suite: first === undefined ? null : { ...suite, workloads: [first, ...rest] }, leftOut };
}
