/** What a check of the rig found. `refuse`: measuring now would be wrong or impossible. */
export interface Finding {
  /** Name of the check; each is explained in README.md. */
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
