import type { Accounting, Exit, NotStarted, ProgramUser } from '../../model/meter.ts';

/** What the meter's thread is asked to start; descriptors are this process's own. */
export interface StartOrder {
  readonly kind: 'start';
  /** `argv[0]` is the absolute path of the file to start. */
  readonly argv: readonly [string, ...string[]];
  /** `NAME=value`. */
  readonly environment: readonly string[];
  readonly workingFolder: string;
  readonly user: ProgramUser | null;
  readonly stdin: number;
  readonly stdout: number;
  readonly stderr: number;
  readonly affinity: readonly number[] | null;
  readonly priority: number | null;
}

export type ToWorker =
  | StartOrder
  /** Lets the waiting program run. */
  | { readonly kind: 'go' }
  /** Waits for ended children, so that no zombies stay. */
  | { readonly kind: 'reap'; readonly pids: readonly number[] }
  | { readonly kind: 'close' };

export type FromWorker =
  | { readonly kind: 'opened' }
  | { readonly kind: 'unavailable'; readonly why: string }
  /** The program is about to run (waits for `go`), or, where it could not be held back, runs already. */
  | { readonly kind: 'ready'; readonly pid: number; readonly startTicks: number }
  | { readonly kind: 'refused'; readonly refusal: NotStarted }
  | { readonly kind: 'ended'; readonly exit: Exit; readonly accounting: Accounting };
