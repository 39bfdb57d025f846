import type { Suite, Workload, WorkloadProgram } from '../../model/suite.ts';

/** Name of each program that workloads start, as in `argv`, to the ids of those workloads; in the suite's order. */
export function namedPrograms({
  workloads,
}: Pick<Suite, 'workloads'>): ReadonlyMap<string, readonly string[]> {
  const named = new Map<string, string[]>();
  for (const workload of workloads) {
    for (const name of programsOf(workload))
      named.set(name, [...(named.get(name) ?? []), workload.id]);
  }
  return named;
}

/** Without repetition; what a run makes itself or gets as an input is no program of the rig. */
function programsOf({ program }: Workload): readonly string[] {
  const names = argvsOf(program).map(([name]) => name);
  return [...new Set(names)].filter((name) => !/\{(?:scratch|input:[^{}]*)\}/.test(name));
}

function argvsOf(program: WorkloadProgram): readonly (readonly [string, ...string[]])[] {
  if (program.kind === 'command') return [program.argv];
  if (program.kind !== 'scripted') return [];
  const { setUp, steps, check, tearDown } = program;
  return [...setUp, ...steps, ...check, ...tearDown].map(({ argv }) => argv);
}
