import type { CheckName, Finding } from '../model/finding.ts';
import type { MeterName } from '../model/meter.ts';
import type { InputProbe, ProgramProbe } from '../model/preparation.ts';
import type { EarlierIdle, MovingCondition, RigCondition } from '../model/rig-condition.ts';
import type { Suite } from '../model/suite.ts';

/** What is looked at again before each round. */
export interface MovingContext {
  readonly condition: MovingCondition;
  readonly availableMemoryBytes: number | null;
}

/** What the checks look at. */
export interface CheckContext extends MovingContext {
  readonly condition: RigCondition;
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
  /** That the sitting is expected to take. */
  readonly plannedSeconds: number;
  /** Of the room now; null where nobody gave it. */
  readonly ambientCelsius: number | null;
  /** The last sitting of this rig that knew its temperature at rest. */
  readonly earlierIdle: EarlierIdle | null;
}

/** Looks at one thing and changes nothing. An empty list: nothing to say. */
export type Check = (context: CheckContext) => Promise<readonly Finding[]> | readonly Finding[];

/** A check that may be made again before each round. */
export type MovingCheck = (context: MovingContext) => readonly Finding[];

/** A finding about the rig as a whole. */
export function rigFinding(
  check: CheckName,
  severity: Finding['severity'],
  message: string,
  remedy: string,
): Finding {
  return { check, severity, workload: null, message, remedy };
}
