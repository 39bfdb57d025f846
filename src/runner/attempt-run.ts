import type { PlannedRun } from '../model/plan.ts';
import type { CooldownRecord, Disturbance, RunRecord } from '../model/run.ts';
import type { Workload } from '../model/suite.ts';
import type { HeatGuard } from './heat/heat-guard.ts';
import type { PlanHooks } from './plan-hooks.ts';
import type { RunSetting } from './run-part.ts';
import { runWorkload } from './run-workload.ts';

interface Attempt {
  readonly run: PlannedRun;
  readonly workload: Workload;
  /** From 1. */
  readonly attempt: number;
  readonly cooldown: CooldownRecord | null;
  /** What was found before its round. */
  readonly notes: readonly Disturbance[];
}

interface AttemptTools {
  readonly setting: RunSetting;
  readonly hooks: Pick<PlanHooks, 'stop' | 'emit' | 'watchRun'>;
  readonly heat: HeatGuard;
}

/** One measured attempt at a planned run, watched from its begin to its end; not recorded yet. */
export async function attemptRun(
  { run, workload, attempt, cooldown, notes }: Attempt,
  { setting, hooks: { stop, emit, watchRun }, heat }: AttemptTools,
): Promise<RunRecord> {
  const watcher = watchRun === null ? null : await watchRun(run);
  const record = await heat.watch(stop.now, (abort) =>
    runWorkload({ ...run, attempt }, workload, cooldown, setting, {
      abort,
      onStart: (pid) => emit({ type: 'run-started', run, pid }),
      onStep: (step) => emit({ type: 'step-started', run, step }),
    }),
  );
  const seen = watcher === null ? [] : await watcher.end();
  return { ...record, disturbances: [...notes, ...seen] };
}
