/** What comparing a folder with its seal found. */
export interface SealReport {
  readonly folder: string;
  /** False for a folder that was never sealed: nothing could be compared. */
  readonly sealed: boolean;
  /** The folder says that its data are made up. */
  readonly invented: boolean;
  readonly checkedFiles: number;
  /** Empty when every file is as sealed; sorted by path. */
  readonly findings: readonly SealFinding[];
}

export interface SealFinding {
  readonly kind: 'damaged' | 'missing' | 'extra';
  /** Relative to the folder. */
  readonly path: string;
  readonly detail: string;
}
