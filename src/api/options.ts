import { homedir, tmpdir } from 'node:os';
import { join } from 'node:path';
import type { SittingEvent } from '../model/event.ts';
import type {
  Acknowledgement,
  Conditions,
  RepeatedWorkload,
  SittingCampaign,
} from '../model/sitting.ts';
import type { OtherUser } from '../prepare/find-user.ts';
import type { Operator } from '../runner/by-hand/operator.ts';
import { type Clock, systemClock } from '../runner/clock.ts';
import { StopControl } from '../runner/stop-control.ts';

/** How a suite is to be run. Only the suite and the rig's label must be given. */
export interface SittingOptions {
  /** Label of the machine in its present configuration: lower-case letters, digits, hyphens. */
  readonly rig: string;
  /** Folder that gets the sitting's own folder; made when missing. Default `results`. */
  readonly results?: string;
  /** Overrides the suite's seed. */
  readonly seed?: number;
  /** Factor to level, such as `memory` to `2x8 GiB`. */
  readonly levels?: Readonly<Record<string, string>>;
  readonly assembly?: number | null;
  readonly conditions?: Partial<Conditions>;
  /** What a campaign led to this sitting by. Default null: none did. */
  readonly campaign?: SittingCampaign | null;
  /** Measures one workload only, to look into its result in an earlier sitting. Default null. */
  readonly again?: RepeatedWorkload | null;
  /** How the cautions before a stress load were acknowledged. Default null: the caller asked nobody. */
  readonly cautions?: Acknowledgement | null;
  /** Parent of scratch folders. Default: the system's temporary folder. */
  readonly scratch?: string;
  /** Folder where prepared inputs are kept from sitting to sitting. Default: `.cache/steadyrig` in the home folder; with `user`, `/var/cache/steadyrig`. */
  readonly cache?: string;
  /** Leaves out workloads whose programs are missing, instead of refusing to measure. */
  readonly skipMissing?: boolean;
  /** Whose rights workloads get: see `findUser`. Only root can give them. Default null: those of this process. */
  readonly user?: OtherUser | null;
  /** PATH of measured programs. Default: that of a plain system, not the caller's. */
  readonly path?: string;
  /** Use the portable meter even where the kernel's accounting could be had. */
  readonly portableMeter?: boolean;
  /** Sample the rig's sensors once a second. Default true. */
  readonly telemetry?: boolean;
  /** Hold off sleep and shutdown of the machine meanwhile, where logind allows it. Default false. */
  readonly holdsOffSleep?: boolean;
  /** No run starts that is not expected to end before; the sitting then ends. Default: no such time. */
  readonly deadline?: Date | null;
  readonly onEvent?: (event: SittingEvent) => void;
  readonly stop?: StopControl;
  /** Who types in figures read by hand. Default: nobody, and those runs are left for later. */
  readonly operator?: Operator | null;
  readonly clock?: Clock;
  /** Mount point of /proc and /sys. */
  readonly root?: string;
}

export type ResolvedOptions = Required<Omit<SittingOptions, 'seed' | 'conditions'>> & {
  readonly seed: number | null;
  readonly conditions: Conditions;
};

/** Where Linux systems keep programs; the caller's own PATH may differ from night to night. */
const systemPath = '/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin';

const sharedCache = '/var/cache/steadyrig';

export function resolveOptions(options: SittingOptions): ResolvedOptions {
  return {
    rig: options.rig,
    results: options.results ?? 'results',
    seed: options.seed ?? null,
    levels: options.levels ?? {},
    assembly: options.assembly ?? null,
    conditions: {
      ambientCelsius: options.conditions?.ambientCelsius ?? null,
      notes: options.conditions?.notes ?? null,
    },
    campaign: options.campaign ?? null,
    again: options.again ?? null,
    cautions: options.cautions ?? null,
    scratch: options.scratch ?? tmpdir(),
    // Nobody else gets into root's own home folder.
    cache: options.cache ?? (options.user ? sharedCache : join(homedir(), '.cache', 'steadyrig')),
    skipMissing: options.skipMissing ?? false,
    user: options.user ?? null,
    path: options.path ?? systemPath,
    portableMeter: options.portableMeter ?? false,
    telemetry: options.telemetry ?? true,
    holdsOffSleep: options.holdsOffSleep ?? false,
    deadline: options.deadline ?? null,
    onEvent: options.onEvent ?? (() => undefined),
    stop: options.stop ?? new StopControl(),
    operator: options.operator ?? null,
    clock: options.clock ?? systemClock,
    root: options.root ?? '/',
  };
}
