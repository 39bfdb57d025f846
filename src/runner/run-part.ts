import type { PrivateLiteral } from '../lib/scrub-text.ts';
import type { Meter, MeterRequest, ProgramUser } from '../model/meter.ts';
import type { PlannedRun } from '../model/plan.ts';
import type { RunRecord } from '../model/run.ts';
import type { Workload } from '../model/suite.ts';
import type { Clock } from './clock.ts';
import { measuredEnvironment } from './meter/measured-environment.ts';
import type { CommandPlaces } from './resolve-command.ts';
import type { Telemetry } from './telemetry/start-telemetry.ts';

/** What runs of one sitting share. */
export interface RunSetting {
  readonly meter: Meter;
  readonly clock: Clock;
  /** Monotonic zero of the records. */
  readonly startSeconds: number;
  readonly bootId: string | null;
  /** Data folder of the sitting. */
  readonly data: string;
  /** Parent of the fresh folder that each run gets. */
  readonly scratchParent: string;
  /** Whose rights measured programs get; left out, those of the agent. */
  readonly user?: ProgramUser | null;
  /** PATH of measured programs. */
  readonly path: string;
  readonly places: Omit<CommandPlaces, 'scratch' | 'inputs'>;
  /** Absolute paths of a workload's inputs by name. */
  readonly inputsOf: (workload: Workload) => Readonly<Record<string, string>>;
  readonly literals: readonly PrivateLiteral[];
  /** Reads the sensors meanwhile; null when nobody wants that. */
  readonly telemetry: Telemetry | null;
  /** Of the processor at rest, Cel; null where it was not learnt. */
  readonly idleCelsius: number | null;
}

/** How a run is followed and ended while it is under way. */
export interface RunWatch {
  /** Ends the run at once. */
  readonly abort: AbortSignal;
  /** The first program of the run has started. */
  readonly onStart: (pid: number) => void;
  /** A step of a scripted workload has started. */
  readonly onStep: (step: string) => void;
}

/** One attempt at a planned run. */
export interface AttemptedRun extends PlannedRun {
  /** From 1. */
  readonly attempt: number;
}

/** One run under way, with the folder it has to itself. */
export interface RunBench {
  readonly run: AttemptedRun;
  readonly setting: RunSetting;
  readonly watch: RunWatch;
  /** Ours, for captured streams. */
  readonly folder: string;
  /** The program's, within `folder`. */
  readonly places: CommandPlaces;
}

/** What a run of any kind of program adds to its record; the failure is not scrubbed yet. */
export type RunPart = Pick<
  RunRecord,
  | 'parameters'
  | 'startedAt'
  | 'sinceStartSeconds'
  | 'failure'
  | 'exit'
  | 'stopped'
  | 'accounting'
  | 'leftBehind'
  | 'metrics'
  | 'logs'
  | 'pageCache'
  | 'steps'
  | 'telemetry'
>;

/** The moment that a run's record begins with. */
export function startMoment({
  clock,
  startSeconds,
}: RunSetting): Pick<RunPart, 'startedAt' | 'sinceStartSeconds'> {
  return {
    startedAt: clock.now().toISOString(),
    sinceStartSeconds: clock.monotonicSeconds() - startSeconds,
  };
}

const graceSeconds = 2;

/** What every program of a run is started with. */
export function commonRequest(
  workload: Workload,
  { setting, places, watch }: RunBench,
): Omit<MeterRequest, 'argv' | 'stdoutPath' | 'stderrPath'> {
  const { environment, affinity, priority, limits } = workload;
  const { path } = setting;
  const { scratch } = places;
  return {
    environment: measuredEnvironment({ path, scratch, extra: environment }),
    workingFolder: scratch,
    user: setting.user ?? null,
    affinity,
    priority,
    timeLimitSeconds: limits.timeSeconds,
    outputLimitBytes: limits.outputBytes,
    graceSeconds,
    abort: watch.abort,
  };
}
