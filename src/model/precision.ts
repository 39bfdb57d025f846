import type { Direction, UnitCode } from './unit.ts';

export const precisionSchema = 'steadyrig/precision/1';

/**
 * A precision study: several sittings of one unchanged rig, re-seated or rebooted between (ISO 5725-3, intermediate
 * precision). Stored as `precision/<rig>-<suite>-<UTC time>.json` in the results folder.
 */
export interface PrecisionStudy {
  readonly schema: typeof precisionSchema;
  readonly rig: string;
  /** Id of the suite, and its digest: the study speaks of sittings with this digest only. */
  readonly suite: string;
  readonly digest: string;
  /** RFC 3339, UTC. */
  readonly at: string;
  /** Ids, in order of time. */
  readonly sittings: readonly string[];
  /** Numbers of assemblies and of boots that the sittings are spread over; null where not every sitting says. */
  readonly assemblies: number | null;
  readonly boots: number | null;
  /** Runs that the operator had excluded when the study was made; not among its figures. */
  readonly excludedRuns: number;
  /** What could not be checked about the rig being unchanged, as sentences. */
  readonly unchecked: readonly string[];
  readonly rows: readonly PrecisionRow[];
  /** What has no row, and why. */
  readonly untold: readonly UntoldPrecision[];
  /** One for each workload whose runs were timed, for planning. */
  readonly times: readonly RunTime[];
}

export interface UntoldPrecision {
  readonly workload: string;
  readonly metric: string;
  /** For people. */
  readonly reason: string;
}

/** What a run of a workload took on average, all its steps included, warm-ups too. */
export interface RunTime {
  readonly workload: string;
  readonly seconds: number;
  /** The wait before a run; null where none is recorded. */
  readonly cooldownSeconds: number | null;
}

/** Standard deviations of natural logarithms: 0.01 is about 1 %. */
export interface PrecisionRow {
  readonly workload: string;
  readonly metric: string;
  readonly unit: UnitCode;
  readonly better: Direction;
  readonly sittings: number;
  readonly runs: number;
  /** Within a sitting (repeatability), with its degrees of freedom; null (and 0) where no sitting has two runs. */
  readonly sr: number | null;
  readonly srDf: number;
  /**
   * Between sittings, floored at 0, with the degrees of freedom of the mean square between. Where `sr` is null: of single runs
   * of different sittings, both spreads together.
   */
  readonly sb: number;
  readonly sbDf: number;
  /** Runs in a sitting that the mean square between stands for (equal to the number of repeats in a balanced study). */
  readonly effectiveRepeats: number;
  /** Intermediate precision of a single run: sqrt(sb² + sr²); equal to `sb` where `sr` is null. */
  readonly si: number;
  /** 2.8 sr: two runs of a sitting lie further apart in one of twenty cases. */
  readonly repeatabilityLimit: number | null;
  /**
   * Smallest true ratio that one sitting a side, with as many repeats as those of the study, shows at 80 % power and 5 %, as a
   * fraction: 0.03 is 3 %. Null where no two runs differ.
   */
  readonly detectable: number | null;
}
