import {
  type Comparison,
  type ComparisonRow,
  comparisonSchema,
  type SideSummary,
} from '../../src/model/comparison.ts';

/** Invented comparisons of the Harbour Lane repair co-op. */

export function sampleSide(mean: number, changes: Partial<SideSummary> = {}): SideSummary {
  return { sittings: 3, runs: 15, mean, median: mean, cv: 0.02, ...changes };
}

export function sampleRow(changes: Partial<ComparisonRow> = {}): ComparisonRow {
  return {
    workload: 'pack',
    metric: 'speed',
    unit: 'By/s',
    better: 'higher',
    candidate: 'bench-b',
    baselineSummary: sampleSide(36.59e6),
    candidateSummary: sampleSide(39.12e6),
    ratio: 1.0692,
    low: 1.031,
    high: 1.1082,
    p: 0.0021,
    adjustedP: 0.0105,
    df: 4,
    basis: 'sittings',
    verdict: 'better',
    needs: null,
    withExcluded: null,
    flags: [],
    ...changes,
  };
}

export function sampleComparison(changes: Partial<Comparison> = {}): Comparison {
  return {
    schema: comparisonSchema,
    baseline: 'bench-a',
    confidence: 0.95,
    matters: 0.02,
    adjust: 'holm',
    rows: [
      sampleRow(),
      sampleRow({
        workload: 'hash-one',
        metric: 'wall',
        unit: 's',
        better: 'lower',
        baselineSummary: sampleSide(2.5),
        candidateSummary: sampleSide(2.4976),
        ratio: 1.00096,
        low: 0.9951,
        high: 1.0069,
        p: 0.68,
        adjustedP: 1,
        verdict: 'equivalent',
        flags: ['outliers'],
      }),
      sampleRow({
        workload: 'memory-latency',
        metric: 'load',
        unit: 's',
        better: 'lower',
        baselineSummary: sampleSide(212.6e-9),
        candidateSummary: sampleSide(236.2e-9, { sittings: 2, runs: 10 }),
        ratio: 0.9,
        low: 0.78,
        high: 1.038,
        p: 0.11,
        adjustedP: 0.33,
        verdict: 'undecided',
        needs: { sittings: 7, repeats: 5 },
        flags: ['trend', 'disturbed-runs'],
      }),
      sampleRow({
        workload: 'render-the-harbour-in-four-thousand-samples',
        metric: 'samples-a-second',
        unit: '{samples}/s',
        baselineSummary: sampleSide(963_500),
        candidateSummary: sampleSide(901_900),
        ratio: 0.936,
        low: 0.931,
        high: 0.9411,
        p: 1e-7,
        adjustedP: 4e-7,
        verdict: 'worse',
      }),
      sampleRow({
        workload: 'long-frames',
        metric: 'count',
        unit: '{frames}',
        better: 'lower',
        baselineSummary: sampleSide(0, { cv: null }),
        candidateSummary: sampleSide(2),
        ratio: null,
        low: null,
        high: null,
        p: null,
        adjustedP: null,
        df: null,
        verdict: 'undecided',
        flags: ['zero-values'],
      }),
    ],
    overall: [
      {
        candidate: 'bench-b',
        ratio: 0.9741,
        low: 0.934,
        high: 1.0158,
        workloads: 4,
        without: [
          { workload: 'pack', ratio: 0.944 },
          { workload: 'hash-one', ratio: 0.965 },
          { workload: 'memory-latency', ratio: 1.0003 },
          { workload: 'render-the-harbour-in-four-thousand-samples', ratio: 0.987 },
        ],
        flags: [],
      },
    ],
    differences: [
      {
        candidate: 'bench-b',
        path: 'levels.memory',
        from: '2x8 GiB',
        to: '4x8 GiB',
        absent: null,
        declared: true,
      },
      {
        candidate: 'bench-b',
        path: 'frequency.governors',
        from: 'powersave',
        to: null,
        absent: 'no-such-file',
        declared: false,
      },
    ],
    changes: [{ label: 'bench-b', path: 'kernel.release', values: ['6.1.0', '6.1.2'] }],
    sides: [
      { label: 'bench-a', sittings: ['a1', 'a2', 'a3'], levels: { memory: '2x8 GiB' } },
      { label: 'bench-b', sittings: ['b1', 'b2', 'b3'], levels: { memory: '4x8 GiB' } },
    ],
    unmatched: [
      {
        candidate: 'bench-b',
        workload: 'compile',
        reason: 'two versions of a program are two workloads: gcc 14.2 and gcc 15.1',
      },
    ],
    flags: ['confounded'],
    ...changes,
  };
}
