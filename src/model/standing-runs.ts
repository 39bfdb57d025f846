import { type Attempts, attemptsByPlan, lastAttempt } from './attempts.ts';
import type { Correction, RunRecord } from './run.ts';

/**
 * The runs that count, one for each planned run that is recorded, in the order of their first attempts: of several attempts
 * the last one, or the last good one when the last one failed. Every correction is applied, nothing else is changed.
 */
export function standingRuns(
  runs: readonly RunRecord[],
  corrections: readonly Correction[],
): readonly RunRecord[] {
  const standing = [...attemptsByPlan(runs).values()].map(standingAttempt);
  if (corrections.length === 0) return standing;
  const now = new Map(corrections.map(({ plan, metric, to }) => [figureKey(plan, metric), to]));
  return standing.map((run) => ({
    ...run,
    metrics: run.metrics.map((metric) => ({
      ...metric,
      value: now.get(figureKey(run.plan, metric.id)) ?? metric.value,
    })),
  }));
}

/** Attempts that do not count, since another one at the same planned run does; in the order of the journal. */
export function supersededRuns(runs: readonly RunRecord[]): readonly RunRecord[] {
  const standing = new Set([...attemptsByPlan(runs).values()].map(standingAttempt));
  return runs.filter((run) => !standing.has(run));
}

/** Chosen without a look at any figure. */
function standingAttempt(attempts: Attempts): RunRecord {
  const good = attempts.findLast(({ outcome }) => outcome === 'ok');
  return good ?? lastAttempt(attempts);
}

function figureKey(plan: number, metric: string): string {
  return `${plan} ${metric}`;
}
