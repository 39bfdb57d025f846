import type { ProgramFound } from './sitting.ts';
import type { Input, ProgramRule } from './suite.ts';

/** A program that workloads start, as it was looked for on this rig. */
export interface ProgramProbe {
  /** As in `argv`. */
  readonly name: string;
  /** Ids of the workloads that start it, in the suite's order. */
  readonly workloads: readonly string[];
  /** Null where the suite says nothing about it. */
  readonly rule: ProgramRule | null;
  /** Null where it is missing. The real path is not scrubbed yet. */
  readonly found: ProgramFound | null;
  /** Why it cannot be used, a clause such as `is not found`; null when it can. */
  readonly fault: string | null;
  /** Something odd that does not keep it from being used; null where there is nothing. */
  readonly oddity: string | null;
}

/** An input of a workload, as it was found before anything is prepared. */
export interface InputProbe {
  readonly workload: string;
  /** In the suite. */
  readonly name: string;
  readonly input: Input;
  /** The user's file or archive; null for a generated input, or where it cannot be used. */
  readonly file: { readonly path: string; readonly bytes: number; readonly sha256: string } | null;
  /** Where it lies or will lie in the cache; null for a file, which is used in its place. */
  readonly cachePath: string | null;
  /** Whether something lies at `cachePath` already; it is checked only when a sitting begins. */
  readonly cached: boolean;
  /** Why it cannot be used, a clause such as `cannot be read`; null when it can. */
  readonly fault: string | null;
}

/** An input ready to be read by runs. */
export interface PreparedInput {
  readonly workload: string;
  readonly name: string;
  /** Absolute: of the file, or of the folder that an archive was unpacked into. */
  readonly path: string;
  /** Of the file; of the archive itself for one. */
  readonly bytes: number;
  readonly sha256: string;
}
