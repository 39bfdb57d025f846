/** Of all checks of the rig, as a suite's `requires` names them; each is explained in README.md. */
export const checkNames = [
  'programs',
  'inputs',
  'page-cache',
  'cpus',
  'meter',
  'disk',
  'memory',
  'background-load',
  'mains-power',
  'governor',
  'throttling',
  'swap',
  'idle-temperature',
  'virtualization',
  'other-users',
  'clock-source',
  'timers',
  'pending-reboot',
  'network-drive',
  'debug-kernel',
] as const;
export type CheckName = (typeof checkNames)[number];

/** What a check of the rig found. `refuse`: measuring now would be wrong or impossible. */
export interface Finding {
  /** One of `checkNames`; files of other versions may name others. */
  readonly check: string;
  readonly severity: 'refuse' | 'warn' | 'note';
  /** Workload concerned; null for the rig as a whole. */
  readonly workload: string | null;
  readonly message: string;
  /** What the operator can do. Nothing is changed by us. */
  readonly remedy: string;
  /** Debian packages that would cure it, where that is how this system gets its programs. */
  readonly debianPackages?: readonly string[];
}
