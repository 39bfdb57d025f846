import { studyPrecision } from '../../compare/study-precision.ts';
import { exclusionsInForce, includedRuns } from '../../model/excluded-runs.ts';
import type { Exclusion } from '../../model/exclusion.ts';
import { type PrecisionStudy, precisionSchema } from '../../model/precision.ts';
import type { RunRecord } from '../../model/run.ts';
import { standingRuns } from '../../model/standing-runs.ts';
import { meanRunTimes } from '../../plan/run-times.ts';
import type { StoredSitting } from '../../results/read-sitting.ts';
import { findUnchecked } from './check-unchanged.ts';

/** The study of one or more sittings of one rig and suite, in order of time; excluded runs are left out. */
export function makeStudy(
  sittings: readonly [StoredSitting, ...StoredSitting[]],
  exclusions: readonly Exclusion[],
  at: Date,
): PrecisionStudy {
  const [first] = sittings;
  const suite = first.sitting.suite.resolved;
  const counted = sittings.map((stored) => countedRuns(stored, exclusions));
  return {
    schema: precisionSchema,
    rig: first.sitting.rig,
    suite: suite.id,
    digest: suite.digest,
    at: at.toISOString(),
    sittings: sittings.map(({ sitting }) => sitting.id),
    assemblies: countOf(sittings.map(({ sitting }) => nonNull(sitting.assembly))),
    boots: countOf(sittings.map(({ sitting }) => sitting.bootIds)),
    excludedRuns: sittings.flatMap(({ sitting }) => exclusionsInForce(sitting.id, exclusions))
      .length,
    unchecked: findUnchecked(sittings),
    ...studyPrecision(suite, counted),
    times: meanRunTimes(sittings.flatMap(({ runs }) => runs)),
  };
}

function countedRuns(
  { sitting, runs, corrections }: StoredSitting,
  exclusions: readonly Exclusion[],
): readonly RunRecord[] {
  return includedRuns(sitting.id, standingRuns(runs, corrections), exclusions);
}

function nonNull<T>(value: T | null): readonly T[] {
  return value === null ? [] : [value];
}

/** Different ones among all; null where one sitting names none. */
function countOf(named: readonly (readonly (string | number)[])[]): number | null {
  if (named.some(({ length }) => length === 0)) return null;
  return new Set(named.flat()).size;
}
