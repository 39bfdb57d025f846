import type { RunTime } from '../model/precision.ts';
import type { RunRecord } from '../model/run.ts';

/** Mean times of good runs, warm-ups too, one for each workload that was timed; in the order they first ran. */
export function meanRunTimes(runs: readonly RunRecord[]): readonly RunTime[] {
  const timed = new Map<string, { seconds: number[]; cooldowns: number[] }>();
  for (const run of runs) {
    const seconds = secondsOf(run);
    if (run.outcome !== 'ok' || seconds === null) continue;
    const own = timed.get(run.workload) ?? { seconds: [], cooldowns: [] };
    own.seconds.push(seconds);
    if (run.cooldown !== null) own.cooldowns.push(run.cooldown.seconds);
    timed.set(run.workload, own);
  }
  return [...timed].map(([workload, { seconds, cooldowns }]) => ({
    workload,
    seconds: average(seconds),
    cooldownSeconds: cooldowns.length === 0 ? null : average(cooldowns),
  }));
}

/** Of all its steps, set-up and tear-down included; null for figures read by hand and imported ones. */
function secondsOf({ steps, accounting }: RunRecord): number | null {
  if (steps === null) return accounting?.wallSeconds ?? null;
  return steps.reduce((sum, step) => sum + (step.accounting?.wallSeconds ?? 0), 0);
}

function average(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
