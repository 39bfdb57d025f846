import type { RawSection } from './reading.ts';
import type { RigFiles } from './rig-files.ts';

/** What collectors may look at. */
export interface RigContext {
  readonly files: RigFiles;
  /** `process.versions`. */
  readonly versions: Readonly<Record<string, string | undefined>>;
}

/** Reads one section. May throw: a failing collector is reported, never fatal. */
export interface Collector {
  /** Section of the catalog that it fills. */
  readonly name: string;
  collect(context: RigContext): Promise<RawSection>;
}
