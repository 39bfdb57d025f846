import { join, resolve } from 'node:path';
import { firstSum } from '../journal/format.ts';
import { openJournal } from '../journal/writer.ts';
import { builtPath } from '../lib/built-path.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { PrivateLiteral } from '../lib/scrub-text.ts';
import { correctedRuns } from '../model/corrected-runs.ts';
import type { Finding } from '../model/finding.ts';
import type { Meter } from '../model/meter.ts';
import type { PreparedInput } from '../model/preparation.ts';
import type { Problem } from '../model/problem.ts';
import type { Correction, RunRecord } from '../model/run.ts';
import type { Sitting } from '../model/sitting.ts';
import type { Suite } from '../model/suite.ts';
import type { TelemetryCost } from '../model/telemetry.ts';
import { estimateSeconds } from '../plan/estimate.ts';
import { createSittingFolder } from '../results/create-folder.ts';
import { rigLabelFault, type SittingPaths, sittingPaths } from '../results/layout.ts';
import { readBootId } from '../rig/boot-id.ts';
import { privateLiterals } from '../rig/private-literals.ts';
import { type OpenedMeter, openMeter } from '../runner/meter/open-meter.ts';
import type { RunSetting } from '../runner/run-part.ts';
import { type PlanResult, runPlan } from '../runner/run-plan.ts';
import type { Telemetry } from '../runner/telemetry/start-telemetry.ts';
import type { LoadedSuite } from '../suite/load.ts';
import { describeSitting } from './describe-sitting.ts';
import { completeSitting, interruptSitting, leaveWaiting } from './finish-sitting.ts';
import { inventory } from './inventory.ts';
import { loadMeter } from './load-meter.ts';
import { openRuns } from './open-runs.ts';
import { type ResolvedOptions, resolveOptions, type SittingOptions } from './options.ts';
import { inputPaths, prepareSitting, type Readiness } from './prepare-sitting.ts';
import { lockSitting } from './sitting-lock.ts';
import { openTelemetry } from './sitting-telemetry.ts';
import { whySettled } from './why-settled.ts';
import { whyUnusual } from './why-unusual.ts';

export type Refusal =
  | { readonly kind: 'bad-option'; readonly problem: Problem }
  | { readonly kind: 'busy'; readonly problem: Problem }
  | { readonly kind: 'write-failed'; readonly problem: Problem }
  | { readonly kind: 'unfit'; readonly findings: readonly Finding[] };

type EndState = 'complete' | 'interrupted' | 'waiting';

export interface SittingOutcome {
  readonly folder: string;
  /** `waiting`: measured, but figures read by hand are missing; `enterFigures` takes them. */
  readonly state: EndState;
  readonly sitting: Sitting;
  /** As first recorded. */
  readonly runs: readonly RunRecord[];
  readonly corrections: readonly Correction[];
  /** Warnings and notes of the checks made before. */
  readonly findings: readonly Finding[];
}

/**
 * Measures a suite on this machine and leaves a sealed result folder; an interrupted sitting is left unsealed, so that
 * it can be continued. Refuses before measuring anything when an option is wrong, another sitting is under way, or the
 * rig is unfit. Rejects when results cannot be written: every run acknowledged before is on the disk.
 */
export async function runSitting(
  loaded: LoadedSuite,
  given: SittingOptions,
): Promise<Result<SittingOutcome, Refusal>> {
  const options = resolveOptions(given);
  const fault = rigLabelFault(options.rig);
  if (fault !== null) return err({ kind: 'bad-option', problem: problem('option-invalid', fault) });
  const about = `process ${process.pid}, started ${options.clock.now().toISOString()}`;
  const lock = await lockSitting(about);
  if (!lock.ok) {
    const message = `another sitting is under way on this machine (${lock.error}): wait for it, or end it`;
    return err({ kind: 'busy', problem: problem('rig-busy', message) });
  }
  const opened = await openMeter({ portable: options.portableMeter });
  try {
    const ready = await prepareSitting(loaded, options, opened);
    if (!ready.ok) return err({ kind: 'unfit', findings: ready.error });
    const measured = await measure(loaded, ready.value, options, opened);
    return measured.ok ? ok({ ...measured.value, findings: ready.value.findings }) : measured;
  } finally {
    await opened.meter.close();
    await lock.value.release();
  }
}

function problem(code: Problem['code'], message: string): Problem {
  return { code, file: null, line: null, column: null, message };
}

async function measure(
  loaded: LoadedSuite,
  ready: Readiness,
  options: ResolvedOptions,
  opened: OpenedMeter,
): Promise<Result<Omit<SittingOutcome, 'findings'>, Refusal>> {
  const literals = await privateLiterals(options.root);
  const bootId = await readBootId(options.root);
  const { meter } = opened;
  const { suite, inputs } = ready;
  const sitting = await describeSitting(loaded, ready, options, { ...opened, literals, bootId });
  const folder = join(options.results, sitting.id);
  const recorded: RunRecord[] = [];
  try {
    const paths = await createSittingFolder(folder, sitting, await inventory(options.root));
    options.onEvent({
      type: 'sitting-started',
      folder,
      runs: sitting.plan.runs.length,
      estimateSeconds: estimateSeconds(suite, sitting.plan).seconds,
    });
    const parts = { meter, sitting, paths, literals, bootId };
    const { result, cost } = await observed(paths, options, (startSeconds, telemetry) => {
      const setting = runSetting(inputs, options, { ...parts, startSeconds, telemetry });
      return performPlan(suite, sitting, setting, paths, options, recorded);
    });
    const state = endState(suite, sitting, result);
    const ended = await finish({ ...sitting, telemetry: cost }, state, recorded, paths, options);
    const { corrections } = result;
    return ok({ folder, state, sitting: ended, runs: recorded, corrections });
  } catch (error) {
    return err(await writeFailed(error, folder, sitting, recorded, options));
  }
}

/** Does the measuring with the sensors sampled meanwhile, and tells what the sampling took. */
async function observed<T>(
  paths: SittingPaths,
  { telemetry: isWanted, root, clock }: ResolvedOptions,
  work: (startSeconds: number, telemetry: Telemetry | null) => Promise<T>,
): Promise<{ result: T; cost: TelemetryCost | null }> {
  const startSeconds = clock.monotonicSeconds();
  if (!isWanted) return { result: await work(startSeconds, null), cost: null };
  const sensing = await openTelemetry(paths.telemetry, root, clock, startSeconds);
  try {
    const result = await work(startSeconds, sensing.telemetry);
    return { result, cost: await sensing.stop() };
  } finally {
    await sensing.stop();
  }
}

function endState(
  suite: Suite,
  sitting: Sitting,
  { complete, runs, corrections }: PlanResult,
): EndState {
  if (!complete) return 'interrupted';
  const { byHand } = openRuns(suite, sitting, correctedRuns(runs, corrections));
  return byHand.length === 0 ? 'complete' : 'waiting';
}

async function finish(
  sitting: Sitting,
  state: EndState,
  runs: readonly RunRecord[],
  paths: SittingPaths,
  { clock, stop, onEvent }: ResolvedOptions,
): Promise<Sitting> {
  const at = clock.now();
  if (state === 'complete') onEvent({ type: 'sealing' });
  const cause = stop.signal ?? 'SIGINT';
  const ended = {
    complete: () => completeSitting(sitting, paths, at),
    waiting: () => leaveWaiting(sitting, paths, at),
    interrupted: () =>
      interruptSitting(sitting, paths, { at: at.toISOString(), cause, runs: runs.length }),
  };
  const finished = await ended[state]();
  const failedRuns = runs.filter(({ outcome }) => outcome === 'failed').length;
  onEvent({ type: 'sitting-ended', folder: paths.folder, state, failedRuns });
  return finished;
}

/** A full or vanished disk ends the sitting; what was acknowledged before stays. Anything but a system error is ours. */
async function writeFailed(
  error: unknown,
  folder: string,
  sitting: Sitting,
  runs: readonly RunRecord[],
  { clock }: ResolvedOptions,
): Promise<Refusal> {
  if (!(error instanceof Error) || !('syscall' in error)) throw error;
  const interruption = {
    at: clock.now().toISOString(),
    cause: 'write-failed',
    runs: runs.length,
  } as const;
  await interruptSitting(sitting, sittingPaths(folder), interruption).catch(() => undefined);
  const message = `${error.message}: the sitting ended after ${runs.length} recorded runs, which are in ${folder}; make room, then it can be continued`;
  return { kind: 'write-failed', problem: problem('write-failed', message) };
}

interface Parts {
  readonly meter: Meter;
  readonly sitting: Sitting;
  readonly paths: SittingPaths;
  readonly literals: readonly PrivateLiteral[];
  readonly bootId: string | null;
  /** Monotonic zero of the records. */
  readonly startSeconds: number;
  readonly telemetry: Telemetry | null;
}

function runSetting(
  inputs: readonly PreparedInput[],
  options: ResolvedOptions,
  { meter, sitting, paths, literals, bootId, startSeconds, telemetry }: Parts,
): RunSetting {
  if (sitting.cpus === null) throw new Error('internal error: imported figures cannot be run');
  return {
    meter,
    clock: options.clock,
    startSeconds,
    bootId,
    data: resolve(paths.data),
    scratchParent: options.scratch,
    path: options.path,
    places: {
      cpus: sitting.cpus,
      node: process.execPath,
      shippedScript: (name) => builtPath(`../workloads/${name}.js`, import.meta.url),
    },
    inputsOf: inputPaths(inputs),
    literals,
    telemetry,
  };
}

/** Works through the plan; `recorded` gets each run once it is on the disk. */
async function performPlan(
  suite: Suite,
  { plan }: Sitting,
  setting: RunSetting,
  paths: SittingPaths,
  options: ResolvedOptions,
  recorded: RunRecord[],
): Promise<PlanResult> {
  const journal = await openJournal(paths.journal, 0, firstSum);
  try {
    return await runPlan(suite, plan, { runs: [], corrections: [] }, setting, {
      append: async (record) => {
        await journal.append(record);
        recorded.push(record);
      },
      correct: (correction) => journal.append(correction),
      emit: options.onEvent,
      whySettled: (workload, runs) => whySettled(suite, workload, runs),
      whyUnusual,
      operator: options.operator,
      readLoad: loadMeter(options.root),
      stop: options.stop,
    });
  } finally {
    await journal.close();
  }
}
