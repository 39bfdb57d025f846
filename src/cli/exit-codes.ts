/** What the exit status of every command means; listed in README.md and in `steadyrig --help`. */
export const exitCodes = {
  fine: 0,
  /** Finished, but something failed: a run, a seal, a gate. */
  failed: 1,
  badInput: 2,
  /** The rig is unfit or busy, or has changed since its sitting began; nothing was measured. */
  refused: 3,
  /** Ended early, or figures read by hand are missing; every finished run is kept and the sitting can be continued. */
  interrupted: 4,
  /** `gate`: it cannot be told whether the candidate is worse, and that is to fail. */
  unsure: 5,
  internal: 70,
} as const;
export type ExitCode = (typeof exitCodes)[keyof typeof exitCodes];
