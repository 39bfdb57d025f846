import type { Plan, PlannedRun } from '../model/plan.ts';
import type { Cooldown, Suite, Workload } from '../model/suite.ts';

/** How long a run is taken to last while none was measured: what the shipped workloads are sized for. */
export const assumedShippedSeconds = 2;
/** The same for a command, of which nothing is known; never above its time limit. */
export const assumedCommandSeconds = 10;

/** Time that runs and the cooldowns before them will take. */
export interface TimeEstimate {
  /** Of the runs that are certain to happen. */
  readonly seconds: number;
  /** With every conditional run too; equal to `seconds` when there is none. */
  readonly secondsWithConditional: number;
  /** Bound: each run ends at its time limit, each cooldown at its longest, every conditional run happens. */
  readonly atMostSeconds: number;
  /** Whether seconds per run were measured for all, some or none of the workloads concerned. */
  readonly basis: 'measured' | 'partly-measured' | 'assumed';
}

/**
 * Estimates how long the runs of a plan take; for the time left pass those that are still to come. `measuredSeconds` maps a workload's id
 * to its seconds per run; a workload not in it counts with the assumed figures above. A cooldown goes before
 * each run but the first of the plan; one that waits for low load or temperature counts with its least time.
 */
export function estimateSeconds(
  suite: Suite,
  { runs }: Pick<Plan, 'runs'>,
  measuredSeconds: ReadonlyMap<string, number> = new Map(),
): TimeEstimate {
  const workloads = new Map(suite.workloads.map((workload) => [workload.id, workload]));
  const wait = cooldownSeconds(suite.cooldown);
  const total = { certain: 0, conditional: 0, limit: 0 };
  for (const run of runs) {
    const workload = workloads.get(run.workload);
    if (workload === undefined)
      throw new Error(`internal error: planned workload ${run.workload} is not in the suite`);
    const first = run.index === 0;
    const seconds =
      (measuredSeconds.get(run.workload) ?? assumedSeconds(workload)) + (first ? 0 : wait.least);
    total[run.conditional ? 'conditional' : 'certain'] += seconds;
    total.limit += workload.limits.timeSeconds + (first ? 0 : wait.most);
  }
  return {
    seconds: total.certain,
    secondsWithConditional: total.certain + total.conditional,
    atMostSeconds: total.limit,
    basis: basisOf(runs, measuredSeconds),
  };
}

/** How long a run of a workload is taken to last while none was measured. */
export function assumedSeconds(workload: Workload): number {
  const assumed =
    workload.program.kind === 'shipped' ? assumedShippedSeconds : assumedCommandSeconds;
  return Math.min(assumed, workload.limits.timeSeconds);
}

/** Least and longest wait before a run. */
export function cooldownSeconds(cooldown: Cooldown): {
  readonly least: number;
  readonly most: number;
} {
  switch (cooldown.kind) {
    case 'fixed':
      return { least: cooldown.seconds, most: cooldown.seconds };
    case 'load':
      return { least: cooldown.atLeastSeconds, most: cooldown.atMostSeconds };
    case 'temperature': {
      const { atLeastSeconds, atMostSeconds, withoutSensorSeconds } = cooldown;
      return { least: atLeastSeconds, most: Math.max(atMostSeconds, withoutSensorSeconds) };
    }
  }
}

function basisOf(
  runs: readonly PlannedRun[],
  measured: ReadonlyMap<string, number>,
): TimeEstimate['basis'] {
  const ids = [...new Set(runs.map((run) => run.workload))];
  const known = ids.filter((id) => measured.has(id)).length;
  if (known === 0) return 'assumed';
  return known === ids.length ? 'measured' : 'partly-measured';
}
