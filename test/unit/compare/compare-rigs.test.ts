import { describe, expect, it } from 'vitest';
import { compareRigs } from '../../../src/compare/compare-rigs.ts';
import type { Comparison, ComparisonRow } from '../../../src/model/comparison.ts';
import type { ComparisonRequest } from '../../../src/model/comparison-request.ts';
import { oneWayComponents } from '../../../src/stats/one-way-components.ts';
import { sampleRequest, sampleRig, sampleStudy } from '../../setup/figures.ts';
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
