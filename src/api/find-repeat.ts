import { err, ok, type Result } from '../lib/result.ts';
import { suggest } from '../lib/suggest.ts';
import type { RunRecord } from '../model/run.ts';
import { standingRuns } from '../model/standing-runs.ts';
import type { StoredSitting } from '../results/read-sitting.ts';

/** A run as a person names it: `pack 3`. */
export interface RepeatName {
  readonly workload: string;
  /** Number of the repeat, from 1. */
  readonly round: number;
}

/** The repeat of that name whose figures count; the error says why there is none. */
export function findRepeat(
  { sitting, runs, corrections }: Pick<StoredSitting, 'sitting' | 'runs' | 'corrections'>,
  { workload, round }: RepeatName,
): Result<RunRecord, string> {
  const known = sitting.suite.resolved.workloads.map(({ id }) => id);
  if (!known.includes(workload)) {
    const near = suggest(workload, known);
    const hint = near === null ? `it has ${known.join(', ')}` : `did you mean ${near}?`;
    return err(`${sitting.id} has no workload ${workload}: ${hint}`);
  }
  const repeats = standingRuns(runs, corrections).filter(
    (run) => run.phase === 'repeat' && run.workload === workload,
  );
  const run = repeats.find((one) => one.round === round);
  if (run === undefined) {
    const there = repeats.map((one) => one.round).sort((one, other) => one - other);
    const has = there.length === 0 ? 'none is recorded' : `recorded are ${there.join(', ')}`;
    return err(`${workload} has no repeat ${round} in ${sitting.id}: ${has}`);
  }
  if (run.failure === null) return ok(run);
  return err(
    `repeat ${round} of ${workload} failed (${run.failure.code}): it has no figures to exclude, and counts as failed`,
  );
}
