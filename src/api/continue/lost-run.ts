import type { MeterName } from '../../model/meter.ts';
import type { PlannedRun } from '../../model/plan.ts';
import { type RunRecord, runSchema } from '../../model/run.ts';
import type { Sitting } from '../../model/sitting.ts';
import type { UnderWay } from '../../model/under-way.ts';

/** A run that a crash cut off. */
export interface LostRun {
  readonly planned: PlannedRun;
  readonly attempt: number;
  /** RFC 3339, UTC. */
  readonly since: string;
  readonly bootId: string | null;
}

/** The run that was under way when the agent died and that the journal does not hold; null when there was none. */
export function findLostRun(
  { plan }: Pick<Sitting, 'plan'>,
  runs: readonly RunRecord[],
  marker: UnderWay | null,
): LostRun | null {
  if (marker === null || marker.phase !== 'run' || marker.run === null) return null;
  const { plan: index, attempt, since } = marker.run;
  const attempts = runs.filter((run) => run.plan === index);
  const planned = plan.runs.find((run) => run.index === index);
  // The journal is the record of truth: a marker that does not fit it is an old one.
  if (planned === undefined || attempts.length !== attempt - 1) return null;
  return { planned, attempt, since, bootId: marker.bootId };
}

/** Its record: an attempt that failed. `bootId` is that of now: another one tells that the machine went down. */
export function lostRecord(
  { planned, attempt, since, bootId: then }: LostRun,
  partStartedAt: string,
  bootId: string | null,
  meter: MeterName | null,
): RunRecord {
  const isSameBoot = then !== null && then === bootId;
  const message = isSameBoot
    ? 'steadyrig ended without a word while it was under way: killed, or crashed'
    : 'the machine went down or was restarted while it was under way';
  return {
    schema: runSchema,
    ...{ plan: planned.index, attempt, phase: planned.phase, round: planned.round },
    workload: planned.workload,
    parameters: null,
    startedAt: since,
    sinceStartSeconds: Math.max(0, (Date.parse(since) - Date.parse(partStartedAt)) / 1000),
    bootId: then,
    meter,
    outcome: 'failed',
    failure: { code: 'lost', message },
    ...{ exit: null, stopped: null, accounting: null, leftBehind: 0, metrics: [] },
    ...{ disturbances: [], cooldown: null, logs: null, pageCache: null, steps: null },
    ...{ telemetry: null, entry: null },
  };
}
