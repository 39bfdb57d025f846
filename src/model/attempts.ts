import type { RunRecord } from './run.ts';

export type Attempts = readonly [RunRecord, ...RunRecord[]];

/** Attempts at each planned run, by its position in the plan; both in the order of the journal. */
export function attemptsByPlan(runs: readonly RunRecord[]): ReadonlyMap<number, Attempts> {
  const found = new Map<number, [RunRecord, ...RunRecord[]]>();
  for (const run of runs) {
    const own = found.get(run.plan);
    if (own === undefined) found.set(run.plan, [run]);
    else own.push(run);
  }
  return found;
}

/** The attempt made last. */
export function lastAttempt(attempts: Attempts): RunRecord {
  return attempts.at(-1) ?? attempts[0];
}
