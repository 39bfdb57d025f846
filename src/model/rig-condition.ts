/**
 * What may move while a sitting is under way, and is looked at again before each round: plain facts of this moment.
 * Null: not known, or nothing of the kind is here.
 */
export interface MovingCondition {
  readonly background: BackgroundLoad | null;
  /** `battery` only where nothing else gives power; null on desktops without any supply that tells. */
  readonly power: 'mains' | 'battery' | null;
  readonly frequency: FrequencySettings;
  readonly swap: SwapState | null;
  /** Sessions of other people; null where no login manager tells. */
  readonly otherSessions: number | null;
}

/** All that the checks look at beside the suite. */
export interface RigCondition extends MovingCondition {
  readonly heat: HeatNow;
  readonly confinement: Confinement;
  readonly clockSource: string | null;
  /** Null where the system has no timers of this kind, or does not tell. */
  readonly timers: readonly SystemTimer[] | null;
  readonly reboot: RebootState;
  /** Type of the file system, such as `ext4` or `nfs4`; null where it is not known. */
  readonly resultsFileSystem: string | null;
  readonly scratchFileSystem: string | null;
  readonly kernel: KernelBuild;
}

/** What others than the agent took between two looks, in CPUs: 1 is one whole CPU. */
export interface BackgroundLoad {
  /** CPUs that there are. */
  readonly cpus: number;
  readonly others: number;
  /** By a hypervisor, for other guests. */
  readonly stolen: number;
  /** Largest first, at most three; the kernel's short name of the program, nothing else of it. */
  readonly causes: readonly { readonly name: string; readonly cpus: number }[];
}

export interface FrequencySettings {
  /** Different ones over all CPUs. */
  readonly drivers: readonly string[];
  readonly governors: readonly string[];
  readonly energyPreferences: readonly string[];
  readonly boost: boolean | null;
  readonly platformProfile: string | null;
}

export interface HeatNow {
  /** Of the processor, Cel. */
  readonly celsius: number | null;
  /** What its sensor calls critical, Cel. */
  readonly critical: number | null;
  /** Times that cores or packages were slowed by heat between two looks. */
  readonly throttleEvents: number | null;
}

export interface SwapState {
  readonly totalBytes: number;
  readonly usedBytes: number;
  /** Pages moved in either direction between two looks; null where the kernel does not count them. */
  readonly pagesMoved: number | null;
}

export interface Confinement {
  readonly hypervisor: boolean | null;
  readonly container: boolean | null;
  readonly containerKind: string | null;
  /** CPUs' worth of time that control groups allow. */
  readonly cpuLimit: number | null;
  readonly memoryLimitBytes: number | null;
  /** CPUs that this process may run on, and that are there. */
  readonly usableCpus: number | null;
  readonly onlineCpus: number | null;
}

export interface SystemTimer {
  readonly name: string;
  /** Until it fires; 0 or below: overdue. */
  readonly inSeconds: number;
}

export interface RebootState {
  /** The system's package manager asks for it. */
  readonly isAskedFor: boolean;
  readonly running: string | null;
  /** A newer kernel of the same flavour that is installed. */
  readonly newer: string | null;
}

export interface KernelBuild {
  /** What makes it slower than others, such as `CONFIG_KASAN`. */
  readonly debugAids: readonly string[];
  /** Meanings of taint flags that tell of trouble since boot. */
  readonly troubles: readonly string[];
}

/** An earlier sitting of this rig, at rest. */
export interface EarlierIdle {
  /** RFC 3339, UTC. */
  readonly startedAt: string;
  readonly celsius: number;
  readonly ambientCelsius: number | null;
}

/** What can be looked at in a fraction of a millisecond, before and after a run. */
export interface Surroundings {
  readonly monotonicSeconds: number;
  /** With the time that the machine was suspended; null where the kernel does not tell. */
  readonly sinceBootSeconds: number | null;
  /** Since the epoch. */
  readonly wallSeconds: number;
  /** Since boot, in either direction. */
  readonly swappedPages: number | null;
  /** Ids of logins, never recorded. */
  readonly sessions: readonly string[] | null;
  readonly cpu: CpuUse | null;
}

/** CPU time since boot, over all CPUs. */
export interface CpuUse {
  readonly cpus: number;
  readonly totalSeconds: number;
  /** Without what was stolen. */
  readonly busySeconds: number;
  readonly stolenSeconds: number;
  /** Of this process and the children that it waited for: measured programs and their children are among them. */
  readonly ownSeconds: number;
}
