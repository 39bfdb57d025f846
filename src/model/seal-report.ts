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
  /** `unreadable`: whoever asks may not read it; nothing is known of it. */
  readonly kind: 'damaged' | 'missing' | 'extra' | 'unreadable';
  /** Relative to the folder. */
  readonly path: string;
  readonly detail: string;
}

/**
 * The findings that make figures doubtful. Logs of runs may be read by whoever measured alone and hold no figure: not having
 * compared them says nothing against the rest.
 */
export function againstFigures(findings: readonly SealFinding[]): readonly SealFinding[] {
  return findings.filter(
    ({ kind, path }) => kind !== 'unreadable' || !path.startsWith('data/logs/'),
  );
}
