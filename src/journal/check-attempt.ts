import type { RunRecord } from '../model/run.ts';

/** What the checks ask of the latest run recorded at a planned run. */
export type RunBefore = Pick<
  RunRecord,
  'attempt' | 'workload' | 'phase' | 'round' | 'entry' | 'metrics'
>;

/**
 * Why a run cannot follow the lines before it; null when it can. Attempts at a planned run are numbered from 1 without a
 * gap, `last` being the one before; a figure read by hand is corrected, never read again.
 */
export function attemptFault(run: RunRecord, last: RunBefore | undefined): string | null {
  const { plan, attempt } = run;
  const name = `planned run ${plan}`;
  const expected = (last?.attempt ?? 0) + 1;
  if (attempt < expected) return `attempt ${attempt} at ${name} is recorded twice`;
  if (attempt > expected) {
    return `attempt ${attempt} at ${name} is recorded, but attempt ${expected} is not there`;
  }
  if (last === undefined) return null;
  if (last.entry !== null) return `${name} is read by hand, but recorded again`;
  const isSame =
    last.workload === run.workload && last.phase === run.phase && last.round === run.round;
  return isSame ? null : `attempt ${attempt} at ${name} is of another run than the one before it`;
}
