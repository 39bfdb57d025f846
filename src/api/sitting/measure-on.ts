import { existsSync } from 'node:fs';
import { isSystemError } from '../../lib/is-system-error.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import type { SittingEvent } from '../../model/event.ts';
import { plainProblem } from '../../model/problem.ts';
import type { Correction, RunRecord } from '../../model/run.ts';
import { isFinished, type Sitting } from '../../model/sitting.ts';
import { standingRuns } from '../../model/standing-runs.ts';
import type { TelemetryCost } from '../../model/telemetry.ts';
import { sittingPaths } from '../../results/layout.ts';
import { isSealed } from '../../results/read-sitting.ts';
import {
  completeSitting,
  interruptSitting,
  leaveWaiting,
  withInterruption,
} from '../finish-sitting.ts';
import type { ResolvedOptions } from '../options.ts';
import { openTelemetry } from '../sitting-telemetry.ts';
import { addCosts } from './add-costs.ts';
import { type EndState, endState } from './end-state.ts';
import { holdOffSleep } from './hold-off-sleep.ts';
import { learnIdleTemperature } from './learn-idle-temperature.ts';
import { markProgress, type ProgressMarker } from './mark-progress.ts';
import { performPlan, type SittingAtHand, type SittingPart } from './perform-plan.ts';
import type { Refusal } from './refusal.ts';

/** How measuring ended. */
export interface Measured {
  readonly folder: string;
  /** `waiting`: measured, but figures read by hand are missing; `enterFigures` takes them. */
  readonly state: EndState;
  readonly sitting: Sitting;
  /** Every attempt, as first recorded, those of earlier parts of the sitting included. */
  readonly runs: readonly RunRecord[];
  readonly corrections: readonly Correction[];
}

/**
 * Measures what a sitting still lacks and ends it: sealed, waiting for figures read by hand, or interrupted. `begin`
 * is told first. A disk that is full or gone is a refusal; what was acknowledged before stays.
 */
export async function measureOn(
  at: SittingAtHand,
  begin: SittingEvent,
  options: ResolvedOptions,
): Promise<Result<Measured, Refusal>> {
  const { paths, bootId } = at;
  const { clock, onEvent } = options;
  const runs = [...at.recorded.runs];
  let { sitting } = at;
  let progress: ProgressMarker | null = null;
  let release = async (): Promise<void> => undefined;
  try {
    progress = await markProgress(paths.folder, bootId, clock, onEvent);
    progress.tell(begin);
    ({ sitting, release } = await holdOffSleep(sitting, paths, progress.tell, options));
    const part = { progress, startSeconds: clock.monotonicSeconds() };
    const { result, cost } = await observed(paths.telemetry, part, options, async (whole) => {
      sitting = await learnIdleTemperature(sitting, paths, whole, options);
      return performPlan({ ...at, sitting }, whole, options, runs);
    });
    const isOver = options.stop.cause === 'deadline';
    const state = endState(at.suite, sitting, result, isOver);
    const measured = { ...sitting, telemetry: addCosts(sitting.telemetry, cost) };
    const ended = await end({ ...at, sitting: measured }, state, runs, progress, options);
    const { corrections } = result;
    return ok({ folder: paths.folder, state, sitting: ended, runs, corrections });
  } catch (error) {
    return err(await writeFailed(error, sitting, paths.folder, runs.length, options));
  } finally {
    await release();
    await progress?.end().catch(() => undefined);
  }
}

/** Does the measuring with the sensors sampled meanwhile, and tells what the sampling took. */
async function observed<T>(
  path: string,
  part: Omit<SittingPart, 'telemetry'>,
  { telemetry: isWanted, root, clock }: ResolvedOptions,
  work: (part: SittingPart) => Promise<T>,
): Promise<{ result: T; cost: TelemetryCost | null }> {
  if (!isWanted) return { result: await work({ ...part, telemetry: null }), cost: null };
  const sensing = await openTelemetry(path, root, clock, part.startSeconds);
  try {
    const result = await work({ ...part, telemetry: sensing.telemetry });
    return { result, cost: await sensing.stop() };
  } finally {
    await sensing.stop();
  }
}

async function end(
  { sitting, paths }: SittingAtHand,
  state: EndState,
  runs: readonly RunRecord[],
  progress: ProgressMarker,
  { clock, stop }: ResolvedOptions,
): Promise<Sitting> {
  const at = clock.now();
  if (isFinished(state)) progress.tell({ type: 'sealing' });
  // Before the seal: what is in a sealed folder stays.
  await progress.end();
  const cause = stop.cause ?? 'SIGINT';
  const early = { at: at.toISOString(), cause, runs: runs.length };
  const cut = (): Sitting => withInterruption(sitting, early);
  const isCut = cause === 'deadline';
  const ways = {
    complete: () => completeSitting(sitting, paths, at),
    'cut-short': () => completeSitting(cut(), paths, at, 'cut-short'),
    waiting: () => leaveWaiting(isCut ? cut() : sitting, paths, at),
    interrupted: () => interruptSitting(sitting, paths, early),
  };
  const ended = await ways[state]();
  const failedRuns = standingRuns(runs, []).filter(({ failure }) => failure !== null).length;
  progress.tell({ type: 'sitting-ended', folder: paths.folder, state, failedRuns });
  return ended;
}

/** A full or vanished disk ends the sitting; what was acknowledged before stays. Anything but a system error is ours. */
export async function writeFailed(
  error: unknown,
  sitting: Sitting,
  folder: string,
  runs: number,
  { clock }: ResolvedOptions,
): Promise<Refusal> {
  if (!isSystemError(error)) throw error;
  const message = `${error.message}: ${await afterFailure(sitting, folder, runs, clock.now())}`;
  return { kind: 'write-failed', problem: plainProblem('write-failed', message) };
}

/** Marks the sitting as interrupted where there is one that can be continued, and tells what is left. */
async function afterFailure(
  sitting: Sitting,
  folder: string,
  runs: number,
  now: Date,
): Promise<string> {
  if (!existsSync(sittingPaths(folder).sitting)) {
    return 'nothing was measured; make room or choose another folder';
  }
  // The last call of the sealing failed: the seal stands, and nothing in it may change any more.
  if (isSealed(folder)) {
    return `${folder} is sealed, but may not be on the disk for good: look at the disk, then try steadyrig verify`;
  }
  const interruption = { at: now.toISOString(), cause: 'write-failed', runs } as const;
  await interruptSitting(sitting, sittingPaths(folder), interruption).catch(() => undefined);
  return `the sitting ended after ${runs} recorded runs, which are in ${folder}; make room, then it can be continued`;
}
