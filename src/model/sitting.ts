import type { Finding } from './finding.ts';
import type { Plan } from './plan.ts';
import type { Suite } from './suite.ts';
import type { TelemetryCost } from './telemetry.ts';

export const sittingSchema = 'steadyrig/sitting/1';

/** What `notInhibited` says of a sitting that nobody wanted to keep the machine awake for. */
export const notAskedFor = 'not asked for';

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
  readonly continuations: readonly Continuation[];
  /** Asked for by `--until` or `--for`: no run starts that is not expected to end before. RFC 3339; null for none. */
  readonly deadline: string | null;
  /** What the preflight checks said and the operator let pass. */
  readonly findings: readonly Finding[];
  /** How the cautions before a stress load were acknowledged; null where nobody was asked (imported figures). */
  readonly cautions: Acknowledgement | null;
  /** Processor temperature at rest, learnt before the first run, Cel; null where nothing told or nobody asked. */
  readonly idleCelsius: number | null;
  /** Null when sleep and shutdown were held off meanwhile, else what was not, and why; `notAskedFor` where nobody wanted it. */
  readonly notInhibited: string | null;
  /** Workloads ran as another user than the agent. */
  readonly asOtherUser: boolean;
  /** What sampling the sensors took in all parts that ended by themselves; null without telemetry, and before the first such end. */
  readonly telemetry: TelemetryCost | null;
  /** Programs that workloads name, as found on this rig. */
  readonly programs: readonly ProgramFound[];
  /** Inputs by name, as prepared. */
  readonly inputs: readonly InputFound[];
  /** Workloads of the suite that this sitting leaves out. */
  readonly leftOut: readonly LeftOut[];
  /** Where imported figures came from; null for a measured sitting. */
  readonly imported: ImportSource | null;
  /** Of a sitting that a campaign led to. */
  readonly campaign?: SittingCampaign;
  /** Of a sitting that repeats one workload of an earlier one, whose odd result is to be looked into. */
  readonly again?: RepeatedWorkload;
}

export interface SittingCampaign {
  readonly id: string;
  /** Unexpected about the rig, and accepted for a reason. */
  readonly accepted: readonly AcceptedChange[];
  /** What software cannot see and the operator confirmed: parts, as `role: name`, and paths of readings. */
  readonly confirmed: readonly string[];
  /** To what the campaign asks before each sitting. */
  readonly answers: readonly ConditionAnswer[];
}

export interface AcceptedChange extends RigChange {
  /** In the operator's words. */
  readonly reason: string;
}

export interface ConditionAnswer {
  readonly id: string;
  readonly prompt: string;
  /** As typed; null where nobody told. */
  readonly text: string | null;
  /** Of a temperature, Cel. */
  readonly celsius: number | null;
}

export interface RepeatedWorkload {
  /** Id of the earlier sitting. */
  readonly of: string;
  readonly workload: string;
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

/**
 * `open`: under way, or cut off by a crash. `interrupted`: ended early, can be continued. `waiting`: only figures read
 * by hand are missing. `complete` and `cut-short` are sealed; `cut-short`: its time was over before its runs were.
 */
export type SittingState = 'open' | 'interrupted' | 'waiting' | 'complete' | 'cut-short';

/** Nothing is measured or entered any more: comparisons take no other sittings. */
export function isFinished(state: SittingState): state is 'complete' | 'cut-short' {
  return state === 'complete' || state === 'cut-short';
}

export interface Conditions {
  readonly ambientCelsius: number | null;
  readonly notes: string | null;
}

export interface Interruption {
  readonly at: string;
  readonly cause: InterruptionCause;
  /** Runs acknowledged in the journal at that moment. */
  readonly runs: number;
}

/** `died`: found out later, by whoever continued. `temperature-limit`: reached twice, or too hot to go on. */
export const interruptionCauses = [
  'SIGINT',
  'SIGTERM',
  'SIGHUP',
  'write-failed',
  'temperature-limit',
  'deadline',
  'died',
] as const;
export type InterruptionCause = (typeof interruptionCauses)[number];

/** A sitting was taken up again. */
export interface Continuation {
  /** RFC 3339, UTC. */
  readonly at: string;
  readonly bootId: string | null;
  /** Bytes of a line that was never acknowledged, cut off the journal. */
  readonly tornBytes: number;
  /** The planned run that was under way when the agent died, recorded as lost; null when none was. */
  readonly lost: number | null;
  /** What moved in the rig meanwhile, the boot aside, and the operator accepted. */
  readonly changes: readonly RigChange[];
}

/** A reading of the inventory, as text with its unit, before and after; null: absent. */
export interface RigChange {
  readonly path: string;
  readonly from: string | null;
  readonly to: string | null;
}

/** `earlier`: in an earlier sitting of this rig label. `option`: by `--acknowledge`. */
export interface Acknowledgement {
  readonly how: 'operator' | 'option' | 'earlier';
  /** RFC 3339, UTC. */
  readonly at: string;
}
