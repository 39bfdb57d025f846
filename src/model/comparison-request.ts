import type { Inventory } from './inventory.ts';
import type { PrecisionStudy } from './precision.ts';
import type { ProgramFound, SittingState } from './sitting.ts';
import type { Parameters } from './suite.ts';
import type { Direction, UnitCode } from './unit.ts';

/** What is compared with what. Pure data: whoever reads result folders makes it, by `gatherFigures` or faster. */
export interface ComparisonRequest {
  readonly baseline: ComparedRig;
  /** At least one; labels of baseline and candidates differ from each other. */
  readonly candidates: readonly ComparedRig[];
  /** Of the intervals, between 0 and 1; verdicts use 1 − confidence as their level. */
  readonly confidence: number;
  /** Difference that matters, a fraction; null: that of the suite. */
  readonly matters: number | null;
  /** Compare other revisions of the suite and other versions of programs too, and say so. */
  readonly allowRevision: boolean;
  /** Those that may fit; the engine takes what covers this suite, workload and metric. */
  readonly studies: readonly PrecisionStudy[];
  /** Of the workloads in the overall index, by id; those left out count 1. Null: all equal. */
  readonly weights: Readonly<Record<string, number>> | null;
}

export interface ComparedRig {
  readonly label: string;
  /** In any order. */
  readonly sittings: readonly SittingFigures[];
}

/** What a comparison takes from a sitting, without its runs. */
export interface SittingFigures {
  readonly id: string;
  readonly rig: string;
  readonly levels: Readonly<Record<string, string>>;
  readonly assembly: number | null;
  readonly ambientCelsius: number | null;
  readonly suite: ComparedSuite;
  readonly toolVersion: string;
  readonly programs: readonly Pick<ProgramFound, 'name' | 'version' | 'sha256'>[];
  /** Null for imported figures. */
  readonly meter: 'kernel' | 'portable' | null;
  readonly state: SittingState;
  /** RFC 3339, UTC. */
  readonly startedAt: string;
  /** The figures are made up, for a demonstration. */
  readonly invented: boolean;
  /** Null for imported figures. */
  readonly inventory: Inventory | null;
  /** In the order of the suite; those without a good repeat too. */
  readonly workloads: readonly WorkloadFigures[];
}

export interface ComparedSuite {
  readonly id: string;
  readonly revision: number;
  readonly profile: string | null;
  readonly digest: string;
  readonly differenceThatMatters: number;
  /** Repeats went on until the interval was narrow enough. */
  readonly adaptive: boolean;
  /** How far apart starting temperatures may lie by its cooldown; null where that waits for no temperature near idle. */
  readonly startBandKelvin: number | null;
}

export interface WorkloadFigures {
  readonly workload: string;
  /** Of a shipped workload as the suite has them (`threads: all` not resolved); null for others. */
  readonly parameters: Parameters | null;
  /** Names of the programs it starts itself. */
  readonly programs: readonly string[];
  readonly metrics: readonly MetricFigures[];
  /** Places, in rising order, of the repeats that the operator left out; they stay among the values. */
  readonly excluded: readonly number[];
  /** Measured attempts that failed, whether or not a later one was good. */
  readonly failed: number;
  /** Standing repeats beside which something else went on. */
  readonly disturbed: number;
  /** Standing repeats in which a processor was slowed by heat. */
  readonly throttled: number;
  /** Mean of the processor's temperature when repeats started, Cel; null where nothing told. */
  readonly startCelsius: number | null;
  /** The clock was lower in the hotter repeats: see `clockFellWhenHot`. */
  readonly clockFell: boolean;
  /** Of the standing repeats in the order they ran: energy of the processor packages, gross, and how long the run took; null where not measured. Left out or null where no repeat has it. */
  readonly energy?: readonly (RunEnergy | null)[] | null;
}

export interface RunEnergy {
  readonly joules: number;
  readonly seconds: number;
}

export interface MetricFigures {
  readonly metric: string;
  readonly unit: UnitCode;
  readonly better: Direction;
  /** Of the standing repeats in the order they ran, base units; null where a repeat has no such figure. */
  readonly values: readonly (number | null)[];
  /** Some true figure is below what stands here. */
  readonly bounded: boolean;
}
