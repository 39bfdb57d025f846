import { isMarkedInvented } from './is-marked-invented.ts';
import { parkedWorkloads } from './parked-workloads.ts';
import type { Correction, RunRecord } from './run.ts';
import type { AcceptedChange, Sitting } from './sitting.ts';
import { standingRuns } from './standing-runs.ts';

/** What choosing among sittings needs: little, since there may be thousands. */
export interface SittingHeader
  extends Pick<Sitting, 'id' | 'rig' | 'levels' | 'startedAt' | 'state'> {
  readonly folder: string;
  readonly suite: string;
  readonly digest: string;
  /** It repeats a single workload of an earlier sitting, since that was odd: no further sitting of its rig. */
  readonly isAgain: boolean;
  /** Unexpected about the rig when it was measured, and accepted for a reason. */
  readonly accepted: readonly AcceptedChange[];
}

/** What a list of sittings says of the runs of one. */
export interface RunCounts {
  readonly imported: boolean;
  /** Its figures are made up, for a demonstration. */
  readonly invented: boolean;
  /** Planned runs that are recorded. */
  readonly runs: number;
  readonly failedRuns: number;
  readonly attempts: number;
  /** Ids of workloads. */
  readonly parked: readonly string[];
}

/** A sitting as a line of a list. */
export interface SittingEntry extends SittingHeader, RunCounts {
  readonly sealed: boolean;
}

export function sittingHeader(folder: string, sitting: Sitting): SittingHeader {
  const { id, rig, levels, startedAt, state, suite, campaign, again } = sitting;
  return {
    folder,
    id,
    rig,
    levels,
    startedAt,
    state,
    suite: suite.resolved.id,
    digest: suite.resolved.digest,
    isAgain: again !== undefined,
    accepted: campaign?.accepted ?? [],
  };
}

export function countRuns(
  sitting: Sitting,
  runs: readonly RunRecord[],
  corrections: readonly Correction[],
): RunCounts {
  const standing = standingRuns(runs, corrections);
  return {
    imported: sitting.imported !== null,
    invented: isMarkedInvented(sitting.conditions.notes),
    runs: standing.length,
    failedRuns: standing.filter(({ outcome }) => outcome === 'failed').length,
    attempts: runs.length,
    parked: [...parkedWorkloads(sitting.suite.resolved, runs).keys()],
  };
}
