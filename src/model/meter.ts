/** What the meter is asked to start and how to bound it. All paths are absolute. */
export interface MeterRequest {
  /** `argv[0]` is an absolute path, or a name looked up in the request's own PATH. */
  readonly argv: readonly [string, ...string[]];
  /** The whole environment of the program; nothing is inherited. */
  readonly environment: Readonly<Record<string, string>>;
  readonly workingFolder: string;
  /** A regular file that becomes standard input; left out, there is nothing to read. */
  readonly stdinPath?: string;
  /** Created or truncated by the meter, bounded by it when the program has ended. */
  readonly stdoutPath: string;
  readonly stderrPath: string;
  /**
   * True: standard output is the program's work, not a log. The file is left as the program wrote it, may not be
   * reached through a link, is not counted against the output limit, and gets no checksum.
   */
  readonly wholeStdout?: boolean;
  /** Whose rights the program gets; left out, those of this process. Needs root. */
  readonly user?: ProgramUser | null;
  readonly affinity: readonly number[] | null;
  readonly priority: number | null;
  readonly timeLimitSeconds: number;
  /** Of the logs: standard output and error together. */
  readonly outputLimitBytes: number;
  /** From SIGTERM to SIGKILL. */
  readonly graceSeconds: number;
  /** Aborting ends the program's whole group: SIGTERM, then SIGKILL. The cause is that of `stopOrder`. */
  readonly abort: AbortSignal;
  /** Called once the program runs; for progress only, may never throw. */
  readonly onStart?: (pid: number) => void;
}

/** A user by numbers. */
export interface ProgramUser {
  readonly uid: number;
  readonly gid: number;
  /** Supplementary ones. */
  readonly groups: readonly number[];
}

/** One program at a time: `measure` must not be called again before its promise has settled. */
export interface Meter {
  readonly name: MeterName;
  measure(request: MeterRequest): Promise<MeterOutcome>;
  close(): Promise<void>;
}

/** `kernel`: posix_spawn and wait4 by FFI. `portable`: Node's own child processes, fewer readings. */
export type MeterName = 'kernel' | 'portable';

export type MeterOutcome = NotStarted | Ended;

export interface NotStarted {
  readonly kind: 'not-started';
  readonly reason: 'not-found' | 'not-executable' | 'no-such-folder' | 'system-error';
  readonly message: string;
}

export interface Ended {
  readonly kind: 'ended';
  readonly exit: Exit;
  /** The first cause that ended the program from outside; null when it ended by itself. */
  readonly stopped: Stop | null;
  readonly accounting: Accounting;
  /** Processes left behind by the program, ended by the meter. */
  readonly leftBehind: number;
  readonly stdout: CapturedStream;
  readonly stderr: CapturedStream;
}

export type Exit =
  | { readonly kind: 'code'; readonly code: number }
  | { readonly kind: 'signal'; readonly signal: string };

export interface Stop {
  readonly cause: 'time-limit' | 'output-limit' | 'temperature-limit' | 'operator';
  /** True when SIGTERM was not enough. */
  readonly forced: boolean;
}

/** Why a program is to end at once: what a signal that is not the operator's is aborted with as its reason. */
export interface StopOrder {
  readonly cause: Extract<Stop['cause'], 'operator' | 'temperature-limit'>;
  /** For the run's record. */
  readonly message: string;
}

/** Why a signal was aborted; null while it is not. Without an order as its reason it was the operator. */
export function stopOrder({ aborted, reason }: AbortSignal): StopOrder | null {
  if (!aborted) return null;
  const isHeat = typeof reason === 'object' && reason?.cause === 'temperature-limit';
  return isHeat
    ? { cause: 'temperature-limit', message: String(reason.message) }
    : { cause: 'operator', message: 'ended at once on request' };
}

/** Of the program and the children it waited for. Null: the meter cannot know it. */
export interface Accounting {
  readonly wallSeconds: number;
  readonly userSeconds: number | null;
  readonly systemSeconds: number | null;
  readonly peakMemory: PeakMemory | null;
  readonly minorFaults: number | null;
  readonly majorFaults: number | null;
  readonly voluntarySwitches: number | null;
  readonly involuntarySwitches: number | null;
}

/** `below`: the program stayed under this bound, and the kernel's figure is that of the process it was started from. */
export type PeakMemory =
  | { readonly kind: 'exact'; readonly bytes: number }
  | { readonly kind: 'below'; readonly bytes: number };

export interface CapturedStream {
  /** All that the program wrote. */
  readonly bytes: number;
  /** What the file holds now: everything, or head and tail with a line between them that tells how much is missing. */
  readonly keptBytes: number;
  /** Of the whole stream, hex; null when part of it was not kept, or it was no log. */
  readonly sha256: string | null;
}
