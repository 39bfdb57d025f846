import type {
  ComparedRig,
  ComparisonRequest,
  MetricFigures,
  SittingFigures,
  WorkloadFigures,
} from '../../src/model/comparison-request.ts';
import {
  type PrecisionRow,
  type PrecisionStudy,
  precisionSchema,
} from '../../src/model/precision.ts';

/** Invented figures for comparisons: benches of the Harbour Lane repair co-op. */

export function sampleMetric(
  values: readonly (number | null)[],
  changes: Partial<MetricFigures> = {},
): MetricFigures {
  return { metric: 'wall', unit: 's', better: 'lower', values, bounded: false, ...changes };
}

export function sampleWorkloadFigures(
  metrics: readonly MetricFigures[],
  changes: Partial<WorkloadFigures> = {},
): WorkloadFigures {
  return {
    workload: 'pack',
    parameters: null,
    programs: [],
    metrics,
    excluded: [],
    failed: 0,
    disturbed: 0,
    throttled: 0,
    startCelsius: null,
    clockFell: false,
    ...changes,
  };
}

/** Finished, `hour` hours after the first one. */
export function sampleFigures(
  rig: string,
  hour: number,
  workloads: readonly WorkloadFigures[],
  changes: Partial<SittingFigures> = {},
): SittingFigures {
  return {
    id: `${rig}-${hour}`,
    rig,
    levels: {},
    assembly: 1,
    ambientCelsius: 21,
    suite: {
      id: 'harbour',
      revision: 1,
      profile: null,
      digest: 'a'.repeat(64),
      differenceThatMatters: 0.02,
      adaptive: false,
      startBandKelvin: null,
    },
    toolVersion: '0.1.0',
    programs: [],
    meter: 'kernel',
    state: 'complete',
    startedAt: new Date(Date.UTC(2026, 0, 31) + hour * 3_600_000).toISOString(),
    invented: false,
    inventory: null,
    workloads,
    ...changes,
  };
}

/** A rig whose sittings measured one metric: a list of repeats for each sitting. */
export function sampleRig(
  label: string,
  sittings: readonly (readonly number[])[],
  changes: Partial<MetricFigures> = {},
): ComparedRig {
  return {
    label,
    sittings: sittings.map((values, hour) =>
      sampleFigures(label, hour, [sampleWorkloadFigures([sampleMetric(values, changes)])]),
    ),
  };
}

export function sampleRequest(
  baseline: ComparedRig,
  candidates: readonly ComparedRig[],
  changes: Partial<ComparisonRequest> = {},
): ComparisonRequest {
  return {
    baseline,
    candidates,
    confidence: 0.95,
    matters: null,
    allowRevision: false,
    studies: [],
    weights: null,
    ...changes,
  };
}

/** A precision study of the one metric of `sampleRig`. */
export function sampleStudy(
  rig: string,
  spreads: Pick<PrecisionRow, 'sr' | 'srDf' | 'sb' | 'sbDf' | 'effectiveRepeats'>,
  changes: Partial<PrecisionStudy> = {},
): PrecisionStudy {
  return {
    schema: precisionSchema,
    rig,
    suite: 'harbour',
    digest: 'a'.repeat(64),
    at: '2026-01-30T00:00:00.000Z',
    sittings: [],
    assemblies: null,
    boots: null,
    excludedRuns: 0,
    unchecked: [],
    rows: [
      {
        workload: 'pack',
        metric: 'wall',
        unit: 's',
        better: 'lower',
        sittings: spreads.sbDf + 1,
        runs: spreads.srDf + spreads.sbDf + 1,
        ...spreads,
        si: Math.hypot(spreads.sr ?? 0, spreads.sb),
        repeatabilityLimit: null,
        detectable: null,
      },
    ],
    untold: [],
    times: [],
    ...changes,
  };
}
