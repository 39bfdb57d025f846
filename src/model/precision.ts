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
  readonly rows: readonly PrecisionRow[];
}

/** Standard deviations of natural logarithms: 0.01 is about 1 %. */
export interface PrecisionRow {
  readonly workload: string;
  readonly metric: string;
  readonly unit: UnitCode;
  readonly better: Direction;
  readonly sittings: number;
  readonly runs: number;
  /** Within a sitting (repeatability), with its degrees of freedom; null below two runs in every sitting. */
  readonly sr: number | null;
  readonly srDf: number;
  /** Between sittings, floored at 0, with the degrees of freedom of the mean square between. */
  readonly sb: number;
  readonly sbDf: number;
  /** Runs in a sitting that the mean square between stands for (equal to the number of repeats in a balanced study). */
  readonly effectiveRepeats: number;
  /** Intermediate precision of a single run: sqrt(sb² + sr²). */
  readonly si: number | null;
  /** 2.8 sr: two runs of a sitting lie further apart in one of twenty cases. */
  readonly repeatabilityLimit: number | null;
  /** Smallest true ratio that one sitting a side shows at 80 % power and 5 %, as a fraction: 0.03 is 3 %. */
  readonly detectable: number | null;
}
