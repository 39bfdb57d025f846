import { describe, expect, it } from 'vitest';
import { compareRigs } from '../../../src/compare/compare-rigs.ts';
import type { Comparison, ComparisonRow } from '../../../src/model/comparison.ts';
import type {
  ComparedRig,
  ComparisonRequest,
  WorkloadFigures,
} from '../../../src/model/comparison-request.ts';
import { oneWayComponents } from '../../../src/stats/one-way-components.ts';
import { sampleSizeOfT } from '../../../src/stats/power-t.ts';
import {
  sampleFigures,
  sampleMetric,
  sampleRequest,
  sampleRig,
  sampleStudy,
  sampleWorkloadFigures,
} from '../../setup/figures.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference, relative } from '../stats/reference.ts';

function compared(request: ComparisonRequest): Comparison {
  return unwrap(compareRigs(request));
}

function onlyRow(request: ComparisonRequest): ComparisonRow {
  const [row, ...more] = compared(request).rows;
  expect(more).toEqual([]);
  if (row === undefined) throw new Error('expected a row');
  return row;
}

/** Sittings of one repeat whose logarithms are these values. */
const asLogs = (values: readonly number[]): number[][] => values.map((value) => [Math.exp(value)]);
const rising = { unit: '{points}', better: 'higher' } as const;

describe('compareRigs on the basis of sittings', () => {
  it("pools the spread over all rigs and adjusts p as R's pairwise comparison of PlantGrowth does", () => {
    const { data, expected } = reference('r-plantgrowth-three-groups');
    const { rows } = compared(
      sampleRequest(sampleRig('ctrl', asLogs(data.ctrl), rising), [
        sampleRig('trt1', asLogs(data.trt1), rising),
        sampleRig('trt2', asLogs(data.trt2), rising),
      ]),
    );
    for (const [at, row] of rows.entries()) {
      expect(row.basis).toBe('sittings');
      expect(row.df).toBe(27);
      expect(relative(Math.log(row.ratio ?? 0), expected.holm_vs_ctrl.est[at])).toBeLessThan(1e-9);
      expect(
        relative(row.adjustedP ?? 0, [0.194387880054301, 0.175363350125367][at] ?? 0),
      ).toBeLessThan(1e-9);
    }
  });
});

describe('compareRigs on the basis of repeats only', () => {
  it("is R's Welch test of the logarithms", () => {
    const { data, expected } = reference('welch-unequal-session-counts');
    const row = onlyRow(
      sampleRequest(sampleRig('one', [data.y], rising), [sampleRig('other', [data.x], rising)]),
    );
    expect(row.basis).toBe('repeats-only');
    expect(row.flags).toContain('repeats-only');
    expect(relative(row.ratio ?? 0, expected.log.ratio)).toBeLessThan(1e-9);
    expect(relative(row.low ?? 0, expected.log.ci[0])).toBeLessThan(1e-9);
    expect(relative(row.high ?? 0, expected.log.ci[1])).toBeLessThan(1e-9);
    expect(relative(row.df ?? 0, expected.log.df)).toBeLessThan(1e-9);
  });
});

describe('compareRigs on the basis of a precision study', () => {
  it('takes the variance of a sitting from the mean squares of dyestuff', () => {
    const yields: { Batch: string; Yield: number }[] = reference(
      'variance-components-dyestuff-pastes',
    ).data.dyestuff;
    const batches = [...new Set(yields.map(({ Batch }) => Batch))].map((batch) =>
      yields.filter(({ Batch }) => Batch === batch).map(({ Yield }) => Yield / 1e4),
    );
    const parts = unwrap(oneWayComponents(batches));
    const study = sampleStudy('bench-a', {
      sr: Math.sqrt(parts.withinVariance),
      srDf: 24,
      sb: Math.sqrt(parts.betweenVariance),
      sbDf: 5,
      effectiveRepeats: 5,
    });
    const flat = (log: number): number[] => Array.from({ length: 5 }, () => Math.exp(log));
    const row = onlyRow(
      sampleRequest(
        sampleRig('bench-a', [flat(0.1)], rising),
        [sampleRig('bench-b', [flat(0.12)], rising)],
        { studies: [study] },
      ),
    );
    expect(row.basis).toBe('precision-study');
    // Davies & Goldsmith: mean square between batches 11,271.5 with 5 degrees of freedom; t(0.975, 5) = 2.5706.
    const half = (2.570581835636314 * Math.sqrt((2 * 11271.5) / 5)) / 1e4;
    expect(row.df).toBeCloseTo(5, 9);
    expect(relative(Math.log(row.low ?? 0), 0.02 - half)).toBeLessThan(1e-6);
    expect(relative(Math.log(row.high ?? 0), 0.02 + half)).toBeLessThan(1e-6);
    expect(row.verdict).toBe('better');
  });
});

describe('compareRigs with sittings on one side only', () => {
  const repeated = [[1], [1.02], [0.99], [1.01]];

  it('takes the spread of the repeated side for both, with its degrees of freedom', () => {
    const row = onlyRow(
      sampleRequest(sampleRig('bench-a', repeated), [sampleRig('bench-b', [[1.1]])]),
    );
    expect([row.basis, row.df]).toEqual(['sittings', 3]);
  });

  it('takes a precision study instead where that has more degrees of freedom', () => {
    const spreads = { sr: null, srDf: 0, sb: 0.01, sbDf: 9, effectiveRepeats: 1 };
    const row = onlyRow(
      sampleRequest(sampleRig('bench-a', repeated), [sampleRig('bench-b', [[1.1]])], {
        studies: [sampleStudy('bench-a', spreads)],
      }),
    );
    expect([row.basis, row.df]).toEqual(['precision-study', 9]);
    // One side is a mean of four sittings, the other a single one: 0.01 · sqrt(1/4 + 1).
    const half = (Math.log(row.high ?? 0) - Math.log(row.low ?? 0)) / 2;
    expect(half / 2.262157162854099).toBeCloseTo(0.01 * Math.sqrt(1.25), 9);
  });

  it('ignores a study of another suite', () => {
    const spreads = { sr: null, srDf: 0, sb: 0.01, sbDf: 9, effectiveRepeats: 1 };
    const study = sampleStudy('bench-a', spreads, { digest: 'b'.repeat(64) });
    const row = onlyRow(
      sampleRequest(sampleRig('bench-a', [[1, 1.01]]), [sampleRig('bench-b', [[1.1, 1.12]])], {
        studies: [study],
      }),
    );
    expect(row.basis).toBe('repeats-only');
  });
});

describe('the verdict', () => {
  const steady = [[1], [1.001], [0.999], [1.0005]];
  const times = (factor: number): number[][] => steady.map(([one = 1]) => [one * factor]);

  it.each([
    [1.1, 'worse'],
    [0.9, 'better'],
    [1.0004, 'equivalent'],
  ] as const)('of times %f as long is %s', (factor, verdict) => {
    const row = onlyRow(
      sampleRequest(sampleRig('bench-a', steady), [sampleRig('bench-b', times(factor))]),
    );
    expect(row.verdict).toBe(verdict);
    expect(row.ratio).toBeCloseTo(1 / factor, 6);
  });

  it('is better or worse for a difference that is real, with a flag where it is too small to matter', () => {
    const row = onlyRow(
      sampleRequest(sampleRig('bench-a', steady), [sampleRig('bench-b', times(1.005))]),
    );
    expect(row.verdict).toBe('worse');
    expect(row.flags).toContain('too-small-to-matter');
  });

  it('is never equivalent where every difference matters', () => {
    const row = onlyRow(
      sampleRequest(sampleRig('bench-a', steady), [sampleRig('bench-b', times(1.0004))], {
        matters: 0,
      }),
    );
    expect(row.verdict).toBe('undecided');
  });

  it("says how many sittings settle it: R's power.t.test for the difference that matters", () => {
    const wide = [[1], [1.02]];
    const row = onlyRow(
      sampleRequest(sampleRig('bench-a', wide), [sampleRig('bench-b', wide)], { matters: 0.02 }),
    );
    expect(row.verdict).toBe('undecided');
    const spread = Math.log(1.02) / Math.SQRT2;
    const { value } = sampleSizeOfT(Math.log(1.02), spread) as { value: number };
    expect(row.needs).toEqual({ sittings: value, repeats: 1 });
  });

  it('says how many repeats settle it where only repeats are known, and no number beyond reason', () => {
    const row = onlyRow(
      sampleRequest(sampleRig('bench-a', [[1, 1.05, 1.02]]), [
        sampleRig('bench-b', [[1, 1.05, 1.02]]),
      ]),
    );
    expect(row.needs?.sittings).toBe(1);
    expect(row.needs?.repeats).toBeGreaterThan(3);
    const wild = onlyRow(
      sampleRequest(sampleRig('bench-a', [[1, 9, 2]]), [sampleRig('bench-b', [[1, 9, 2]])]),
    );
    expect(wild.needs).toEqual({ sittings: 1, repeats: null });
  });

  it.each([
    ['zero-values', [[1], [0]], [[1], [2]]],
    ['zero-values', [[1], [-3]], [[1], [2]]],
    ['one-value', [[1]], [[2]]],
    ['no-spread', [[1], [1]], [[2], [2]]],
  ] as const)('is undecided without an interval: %s', (flag, own, other) => {
    const row = onlyRow(sampleRequest(sampleRig('bench-a', own), [sampleRig('bench-b', other)]));
    expect(row.flags).toContain(flag);
    expect([row.low, row.high, row.p, row.verdict, row.needs]).toEqual([
      null,
      null,
      null,
      'undecided',
      null,
    ]);
    expect(row.ratio === null).toBe(flag === 'zero-values');
  });
});

describe('the baseline measured again', () => {
  const at = (label: string, hours: readonly number[], values: readonly number[]): ComparedRig => ({
    label,
    sittings: values.map((value, place) =>
      sampleFigures(label, hours[place] ?? 0, [sampleWorkloadFigures([sampleMetric([value])])]),
    ),
  });

  it('voids a verdict when it moved by more than the effect', () => {
    const moved = sampleRequest(at('bench-a', [0, 1, 8, 9], [1, 1.0001, 1.01, 1.0101]), [
      at('bench-b', [3, 4, 5, 6], [0.9954, 0.9953, 0.9953, 0.9954]),
    ]);
    const row = onlyRow(moved);
    expect(row.adjustedP).toBeLessThan(0.05);
    expect(row.flags).toContain('baseline-drift');
    expect([row.verdict, row.needs]).toEqual(['undecided', null]);
  });

  it('leaves a verdict whose effect is larger', () => {
    const row = onlyRow(
      sampleRequest(at('bench-a', [0, 1, 8, 9], [1, 1.0001, 1.01, 1.0101]), [
        at('bench-b', [3, 4, 5, 6], [1.2, 1.21, 1.2, 1.21]),
      ]),
    );
    expect(row.verdict).toBe('worse');
    expect(row.flags).not.toContain('baseline-drift');
  });

  it('is asked for where it was not', () => {
    const flagsWith = (hours: readonly number[]): readonly string[] =>
      compared(sampleRequest(at('bench-a', hours, [1, 1.01]), [at('bench-b', [3, 4], [1.1, 1.12])]))
        .flags;
    expect(flagsWith([0, 1])).toContain('baseline-not-repeated');
    expect(flagsWith([8, 9])).toContain('baseline-not-repeated');
    expect(flagsWith([0, 9])).not.toContain('baseline-not-repeated');
    expect(flagsWith([0, 3.5])).not.toContain('baseline-not-repeated');
  });
});

describe('runs that the operator left out', () => {
  const rig = (
    label: string,
    values: readonly number[],
    excluded: readonly number[],
  ): ComparedRig => ({
    label,
    sittings: [
      sampleFigures(label, 0, [sampleWorkloadFigures([sampleMetric(values)], { excluded })]),
    ],
  });

  it('are left out, and told beside the figures with them when they decide', () => {
    const row = onlyRow(
      sampleRequest(rig('bench-a', [1, 1.01, 0.99, 1, 5], [4]), [
        rig('bench-b', [1.1, 1.11, 1.12, 1.1], []),
      ]),
    );
    expect(row.baselineSummary.runs).toBe(4);
    expect([row.verdict, row.withExcluded?.verdict]).toEqual(['worse', 'undecided']);
    expect(row.flags).toEqual(['repeats-only', 'excluded-runs', 'exclusion-decides']);
    expect(row.withExcluded?.ratio).toBeGreaterThan(row.ratio ?? 0);
  });

  it('leave no trace where nothing is excluded', () => {
    const row = onlyRow(
      sampleRequest(rig('bench-a', [1, 1.01], []), [rig('bench-b', [1.1, 1.11], [])]),
    );
    expect(row.withExcluded).toBeNull();
  });
});

describe('flags', () => {
  const own = sampleRig('bench-a', [[1, 1.01]]);
  const withWorkload = (changes: Partial<WorkloadFigures>): ComparedRig => ({
    label: 'bench-b',
    sittings: [
      sampleFigures('bench-b', 1, [sampleWorkloadFigures([sampleMetric([1.1, 1.12])], changes)]),
    ],
  });

  it.each([
    ['throttled', { throttled: 1 }],
    ['failed-runs', { failed: 2 }],
    ['disturbed-runs', { disturbed: 1 }],
    ['clock-fell-when-hot', { clockFell: true }],
    ['bound', { metrics: [sampleMetric([1.1, 1.12], { bounded: true })] }],
  ] as const)('tell of one side: %s', (flag, changes) => {
    expect(onlyRow(sampleRequest(own, [withWorkload(changes)])).flags).toContain(flag);
  });

  it('tell unequal starting temperatures beyond 3 K, or beyond the band of the cooldown', () => {
    const rig = (
      label: string,
      startCelsius: number,
      startBandKelvin: number | null,
    ): ComparedRig => {
      const figures = sampleFigures(label, 0, [
        sampleWorkloadFigures([sampleMetric([1, 1.01])], { startCelsius }),
      ]);
      return { label, sittings: [{ ...figures, suite: { ...figures.suite, startBandKelvin } }] };
    };
    const flags = (other: number, band: number | null): readonly string[] =>
      onlyRow(sampleRequest(rig('bench-a', 40, band), [rig('bench-b', other, band)])).flags;
    expect(flags(43.5, null)).toContain('start-temperature');
    expect(flags(42.5, null)).not.toContain('start-temperature');
    expect(flags(42.5, 2)).toContain('start-temperature');
  });

  it.each([
    ['different-meters', { meter: 'portable' }],
    ['cut-short', { state: 'cut-short' }],
    ['invented-data', { invented: true }],
    ['confounded', { toolVersion: '0.2.0' }],
  ] as const)('tell of the whole comparison: %s', (flag, changes) => {
    const workloads = [sampleWorkloadFigures([sampleMetric([1.1, 1.12])])];
    const other = { label: 'bench-b', sittings: [sampleFigures('bench-b', 1, workloads, changes)] };
    expect(compared(sampleRequest(own, [other])).flags).toContain(flag);
    expect(compared(sampleRequest(own, [withWorkload({})])).flags).not.toContain(flag);
  });

  it('tell a side of a single sitting, whose spread is that of the others', () => {
    const flags = (logs: readonly number[]): readonly string[] =>
      onlyRow(
        sampleRequest(sampleRig('bench-a', asLogs([0, 0.001, -0.001])), [
          sampleRig('bench-b', asLogs(logs)),
        ]),
      ).flags;
    expect(flags([0.01])).toContain('single-sitting');
    expect(flags([0.01, 0.011])).not.toContain('single-sitting');
  });

  it('tell a verdict that hangs on pooling: few sittings that spread more than the others', () => {
    const baseline = sampleRig('bench-a', asLogs([0, 0.001, -0.001, 0.001, -0.001, 0]));
    const row = (logs: readonly number[]): ReturnType<typeof onlyRow> =>
      onlyRow(sampleRequest(baseline, [sampleRig('bench-b', asLogs(logs))]));
    const wide = row([0.005, 0.011]);
    expect(wide.verdict).not.toBe('undecided');
    expect(wide.flags).toContain('pooling-decides');
    const narrow = row([0.05, 0.051]);
    expect(narrow.verdict).toBe(wide.verdict);
    expect(narrow.flags).not.toContain('pooling-decides');
  });

  it('survive figures whose sum is larger than any number', () => {
    const row = onlyRow(
      sampleRequest(sampleRig('bench-a', [[1e308, 1.7e308]]), [
        sampleRig('bench-b', [[1.2e308, 1.6e308]]),
      ]),
    );
    expect(row.baselineSummary.mean / 1e308).toBeCloseTo(1.35, 9);
  });

  it('tell sides whose sittings spread unlike, and compare them by Welch', () => {
    const row = onlyRow(
      sampleRequest(sampleRig('bench-a', asLogs([0, 0.001, -0.001, 0.0005, -0.0005, 0.0002])), [
        sampleRig('bench-b', asLogs([0.4, -0.3, 0.2, -0.5, 0.35, -0.25])),
      ]),
    );
    expect(row.flags).toContain('unequal-variance');
    expect(row.df).toBeLessThan(5.1);
  });
});

describe('options that make no sense', () => {
  const rig = sampleRig('bench-a', [[1, 1.01]]);
  const other = sampleRig('bench-b', [[1, 1.01]]);

  it.each([
    ['confidence is 1', { confidence: 1 }],
    ['confidence is NaN', { confidence: Number.NaN }],
    ['difference that matters is -0.1', { matters: -0.1 }],
    ['no candidate', { candidates: [] }],
    ['rig bench-a stands for more than one side', { candidates: [rig] }],
    ['weight of pak: no side has such a workload', { weights: { pak: 2 } }],
    ['weight of pack is -1', { weights: { pack: -1 } }],
    ['weight of pack is Infinity', { weights: { pack: Number.POSITIVE_INFINITY } }],
  ])('are refused: %s', (message, changes) => {
    const found = compareRigs(sampleRequest(rig, [other], changes));
    expect(found.ok ? [] : found.error.map(({ code }) => code)).toEqual(['option-invalid']);
    expect(JSON.stringify(found)).toContain(message);
  });
});
