import type { Plan } from './plan.ts';
import type { Suite } from './suite.ts';
import type { TelemetryCost } from './telemetry.ts';

export const sittingSchema = 'steadyrig/sitting/1';

/** `sitting.json`: everything that was decided before the first run, and how far it got. */
export interface Sitting {
  readonly schema: typeof sittingSchema;
  /** Name of the folder. */
  readonly id: string;
  readonly tool: { readonly name: 'steadyrig'; readonly version: string };
  readonly rig: string;
  /** Factor to level, as the operator gave them. */
  readonly levels: Readonly<Record<string, string>>;
  readonly assembly: number | null;
  readonly conditions: Conditions;
  readonly suite: SittingSuite;
  readonly plan: Plan;
  /** Null for imported figures. */
  readonly meter: { readonly name: 'kernel' | 'portable'; readonly why: string | null } | null;
  /** Of every measured program, before what its workload adds; `{scratch}` stands for the run's own folder. */
  readonly environment: Readonly<Record<string, string>>;
  /** CPUs this sitting may use; `threads: all` means as many. Null for imported figures. */
  readonly cpus: number | null;
  readonly startedAt: string;
  /** RFC 3339; null while the sitting is open. */
  readonly endedAt: string | null;
  /** Kernel boot ids, in order, without repetition. */
  readonly bootIds: readonly string[];
  readonly state: SittingState;
  readonly interruptions: readonly Interruption[];
  /** What sampling the sensors took; null while the sitting is open and without telemetry. */
  readonly telemetry: TelemetryCost | null;
  /** Programs that workloads name, as found on this rig. */
  readonly programs: readonly ProgramFound[];
  /** Inputs by name, as prepared. */
  readonly inputs: readonly InputFound[];
  /** Workloads of the suite that this sitting leaves out. */
  readonly leftOut: readonly LeftOut[];
  /** Where imported figures came from; null for a measured sitting. */
  readonly imported: ImportSource | null;
}

export interface ImportSource {
  /** Name of the file, without its folder. */
  readonly file: string;
  /** Of the file, hex. */
  readonly sha256: string;
  /** What the file calls this sitting. */
  readonly sitting: string;
}

/** Two versions of a program are two workloads: comparisons look at this. */
export interface ProgramFound {
  readonly name: string;
  /** Real path, home paths scrubbed. */
  readonly path: string;
  readonly sha256: string;
  /** Null where the program does not tell. */
  readonly version: string | null;
}

export interface InputFound {
  readonly workload: string;
  readonly name: string;
  readonly bytes: number;
  readonly sha256: string;
}

export interface LeftOut {
  readonly workload: string;
  readonly reason: string;
}

export interface SittingSuite {
  /** The file as it was, but for what scrubbing took out. */
  readonly text: string;
  /** Of the file as it was. */
  readonly textSha256: string;
  readonly resolved: Suite;
  /** Places taken out of `text` and `resolved`: home paths, host and user names, addresses. */
  readonly redactions: number;
}

/** `open`: under way, or cut off by a crash. `interrupted`: ended early on purpose, can be continued. `waiting`: only figures read by hand are missing. */
export type SittingState = 'open' | 'interrupted' | 'waiting' | 'complete';

export interface Conditions {
  readonly ambientCelsius: number | null;
  readonly notes: string | null;
}

export interface Interruption {
  readonly at: string;
  readonly cause: 'SIGINT' | 'SIGTERM' | 'SIGHUP' | 'write-failed';
  /** Runs acknowledged in the journal at that moment. */
  readonly runs: number;
}
