import { studyPrecision } from '../../src/compare/study-precision.ts';
import type { ComparedRig, ComparisonRequest } from '../../src/model/comparison-request.ts';
import type { PrecisionStudy } from '../../src/model/precision.ts';
import type { RunRecord } from '../../src/model/run.ts';
import type { Suite } from '../../src/model/suite.ts';
import {
  sampleFigures,
  sampleMetric,
  sampleStudy,
  sampleWorkloadFigures,
} from '../setup/figures.ts';

/** Repeats of each sitting. */
export type Sittings = readonly (readonly number[])[];

/** Sittings of a rig as the engine takes them, `hours` after the beginning, one metric a workload. */
export function rigOf(
  label: string,
  workloads: readonly Sittings[],
  hours: readonly number[],
): ComparedRig {
  return {
    label,
    sittings: hours.map((hour, place) =>
      sampleFigures(
        label,
        hour,
        workloads.map((sittings, at) =>
          sampleWorkloadFigures([sampleMetric(sittings[place] ?? [])], {
            workload: at === 0 ? 'pack' : `pack-${at}`,
          }),
        ),
      ),
    ),
  };
}

export function requestOf(
  baseline: ComparedRig,
  candidates: readonly ComparedRig[],
  studies: readonly PrecisionStudy[],
): ComparisonRequest {
  return {
    baseline,
    candidates,
    confidence: 0.95,
    matters: null,
    allowRevision: false,
    studies,
    weights: null,
  };
}

/** All that a study reads of a suite and of runs. */
const suite = {
  workloads: [{ id: 'pack', metrics: [{ id: 'wall', unit: 's', better: 'lower' }] }],
} as unknown as Suite;

export function runsOf(values: readonly number[]): readonly RunRecord[] {
  return values.map(
    (value) =>
      ({
        phase: 'repeat',
        outcome: 'ok',
        workload: 'pack',
        metrics: [{ id: 'wall', value }],
      }) as unknown as RunRecord,
  );
}

/** The study that `steadyrig precision` would store. */
export function studyOf(rig: string, sittings: Sittings): PrecisionStudy {
  const { rows } = studyPrecision(suite, sittings.map(runsOf));
  return { ...emptyStudy, rig, rows };
}

const emptyStudy = sampleStudy('bench-a', {
  ...{ sr: null, srDf: 0, sb: 0, sbDf: 0, effectiveRepeats: 1 },
});
