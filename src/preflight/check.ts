import type { Finding } from '../model/finding.ts';
import type { MeterName } from '../model/meter.ts';
import type { Suite } from '../model/suite.ts';

/** What the checks look at. */
export interface CheckContext {
  readonly suite: Suite;
  /** Folder of the suite file: inputs are relative to it. */
  readonly folder: string;
  /** PATH of measured programs. */
  readonly path: string;
  /** CPU numbers this process may use; null where the kernel does not tell. */
  readonly cpus: readonly number[] | null;
  /** Where results and scratch folders go; need not exist yet. */
  readonly results: string;
  readonly scratch: string;
  readonly meter: MeterName;
  readonly meterWhy: string | null;
  readonly isRoot: boolean;
  readonly platform: NodeJS.Platform;
  readonly availableMemoryBytes: number | null;
}

/** Looks at one thing and changes nothing. An empty list: nothing to say. */
export type Check = (context: CheckContext) => Promise<readonly Finding[]> | readonly Finding[];
