import PQueue from 'p-queue';
import type { SittingEvent } from '../model/event.ts';
import type { Plan, PlannedRun } from '../model/plan.ts';
import type { CooldownRecord, RunRecord } from '../model/run.ts';
import type { Suite, Workload } from '../model/suite.ts';
import { coolDown, cooldownAtMostSeconds, type LoadMeter } from './cooldown.ts';
import { type RunSetting, runWorkload } from './run-workload.ts';
import type { StopControl } from './stop-control.ts';

export interface PlanHooks {
  /** Resolves when the run is on the disk; the next run does not begin before. */
  readonly append: (record: RunRecord) => Promise<void>;
  readonly emit: (event: SittingEvent) => void;
  /** A reason to leave a conditional run out, from the good runs of its workload so far; null when it is needed. */
  readonly whySettled: (workload: Workload, runs: readonly RunRecord[]) => string | null;
  readonly readLoad: LoadMeter;
  readonly stop: StopControl;
}

export interface PlanResult {
  readonly complete: boolean;
  /** Those recorded before included. */
  readonly runs: readonly RunRecord[];
}

/**
 * Works through the plan, one run at a time, leaving out what `recorded` already holds. Ends early when a stop is
 * asked for; rejects when a record cannot be written, since an unrecorded run must not be followed by another.
 */
export async function runPlan(
  suite: Suite,
  plan: Plan,
  recorded: readonly RunRecord[],
  setting: RunSetting,
  hooks: PlanHooks,
): Promise<PlanResult> {
  const workloads = new Map(suite.workloads.map((workload) => [workload.id, workload]));
  const runs = [...recorded];
  const done = new Set(recorded.map((run) => run.plan));
  let first = true;
  const queue = new PQueue({ concurrency: 1 });
  const perform = async (planned: PlannedRun): Promise<void> => {
    if (hooks.stop.afterRun.aborted) return;
    const workload = workloads.get(planned.workload);
    if (workload === undefined)
      throw new Error('internal error: the plan names an unknown workload');
    const settled = planned.conditional ? hooks.whySettled(workload, runs) : null;
    if (settled !== null)
      return hooks.emit({ type: 'run-left-out', run: planned, reason: settled });
    const cooldown = first ? null : await waitBefore(planned, suite, setting, hooks);
    first = false;
    if (hooks.stop.afterRun.aborted) return;
    const record = await runWorkload(planned, workload, cooldown, setting, {
      abort: hooks.stop.now,
      onStart: (pid) => hooks.emit({ type: 'run-started', run: planned, pid }),
    });
    try {
      await hooks.append(record);
    } catch (error) {
      queue.clear();
      throw error;
    }
    runs.push(record);
    hooks.emit({ type: 'run-finished', run: planned, record });
  };
  const open = plan.runs.filter(({ index }) => !done.has(index));
  await queue.addAll(open.map((run) => () => perform(run)));
  return { complete: !hooks.stop.afterRun.aborted || isWhole(plan, runs), runs };
}

async function waitBefore(
  next: PlannedRun,
  { cooldown }: Suite,
  { clock }: RunSetting,
  { emit, readLoad, stop }: PlanHooks,
): Promise<CooldownRecord> {
  emit({ type: 'cooldown-started', next, atMostSeconds: cooldownAtMostSeconds(cooldown) });
  const record = await coolDown(cooldown, clock, readLoad, stop.afterRun);
  emit({ type: 'cooldown-ended', next, cooldown: record });
  return record;
}

/** A stop asked for during the very last run leaves nothing to continue. */
function isWhole(plan: Plan, runs: readonly RunRecord[]): boolean {
  return runs.length === plan.runs.length;
}
