import type { ComparisonFlag } from '../model/comparison.ts';
import type { Side } from './sides.ts';

/** What was odd about the runs of a workload on one side. */
export interface WorkloadFacts {
  /** In the order of flags. */
  readonly flags: ReadonlySet<ComparisonFlag>;
  /** Mean temperature at the start of runs, Cel; null where nothing told. */
  readonly startCelsius: number | null;
}

/** By workload. */
export function gatherWorkloadFacts({ sittings }: Side): ReadonlyMap<string, WorkloadFacts> {
  const growing = new Map<string, { flags: Set<ComparisonFlag>; starts: number[] }>();
  for (const { workloads } of sittings) {
    for (const own of workloads) {
      const known = growing.get(own.workload) ?? { flags: new Set(), starts: [] };
      growing.set(own.workload, known);
      if (own.throttled > 0) known.flags.add('throttled');
      if (own.clockFell) known.flags.add('clock-fell-when-hot');
      if (own.failed > 0) known.flags.add('failed-runs');
      if (own.disturbed > 0) known.flags.add('disturbed-runs');
      if (own.excluded.length > 0) known.flags.add('excluded-runs');
      if (own.startCelsius !== null) known.starts.push(own.startCelsius);
    }
  }
  return new Map(
    [...growing].map(([workload, { flags, starts }]) => {
      const sum = starts.reduce((total, celsius) => total + celsius, 0);
      return [workload, { flags, startCelsius: starts.length === 0 ? null : sum / starts.length }];
    }),
  );
}
