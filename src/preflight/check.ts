import type { Finding } from '../model/finding.ts';
import type { MeterName } from '../model/meter.ts';
import type { InputProbe, ProgramProbe } from '../model/preparation.ts';
import type { Suite } from '../model/suite.ts';

/** What the checks look at. */
export interface CheckContext {
  readonly suite: Suite;
  readonly programs: readonly ProgramProbe[];
  /** Workloads without their programs are left out, instead of keeping the others from being measured. */
  readonly skipMissing: boolean;
  /** Programs come from Debian's packages here. */
  readonly hasApt: boolean;
  readonly inputs: readonly InputProbe[];
  /** Folder where prepared inputs are kept; need not exist yet. */
  readonly cache: string;
  /** True where nothing is going to be prepared, so that it is told what would be. */
  readonly tellsPreparation: boolean;
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
