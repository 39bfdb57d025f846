import { groupBy } from '../lib/group-by.ts';
import type { RunRecord } from './run.ts';

export type Attempts = readonly [RunRecord, ...RunRecord[]];

/** Attempts at each planned run, by its position in the plan; both in the order of the journal. */
export function attemptsByPlan(runs: readonly RunRecord[]): ReadonlyMap<number, Attempts> {
  return groupBy(runs, ({ plan }) => plan);
}

/** The attempt made last. */
export function lastAttempt(attempts: Attempts): RunRecord {
  return attempts.at(-1) ?? attempts[0];
}
