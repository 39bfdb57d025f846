import type { PlannedRun } from '../model/plan.ts';
import type { Suite } from '../model/suite.ts';

/** `reel, rounds 1, 2, 5; tour, round 1`. */
export function missingText(missing: readonly PlannedRun[]): string {
  const rounds = new Map<string, number[]>();
  for (const { workload, round } of missing) {
    rounds.set(workload, [...(rounds.get(workload) ?? []), round]);
  }
  return [...rounds]
    .map(
      ([workload, own]) =>
        `${workload}, ${own.length === 1 ? 'round' : 'rounds'} ${own.join(', ')}`,
    )
    .join('; ');
}

/** A CSV to fill in: one row for each missing figure, its value empty. Ids and units hold nothing that needs quoting. */
export function renderFigureTemplate(suite: Suite, missing: readonly PlannedRun[]): string {
  const rows = missing.flatMap(({ workload, round }) => {
    const metrics = suite.workloads.find(({ id }) => id === workload)?.metrics ?? [];
    return metrics.map(({ id, source }) => {
      const symbol = source.kind === 'operator' ? source.symbol : '';
      return `${workload},${round},${id},,${symbol},`;
    });
  });
  return ['workload,round,metric,value,unit,reason', ...rows].join('\n');
}
