import { describe, expect, it } from 'vitest';
import { compareRigs } from '../../../src/compare/compare-rigs.ts';
import type { OverallRow } from '../../../src/model/comparison.ts';
import type { ComparedRig, ComparisonRequest } from '../../../src/model/comparison-request.ts';
import { estimateInterval } from '../../../src/stats/estimate.ts';
import { meanDifference } from '../../../src/stats/two-sample-t.ts';
import {
  sampleFigures,
  sampleMetric,
  sampleRequest,
  sampleWorkloadFigures,
} from '../../setup/figures.ts';
import { unwrap } from '../../setup/unwrap.ts';

type Times = Readonly<Record<string, readonly number[]>>;

/** Sittings with one or more repeats of each named workload. */
function rig(label: string, sittings: readonly Times[]): ComparedRig {
  return {
    label,
    sittings: sittings.map((times, hour) =>
      sampleFigures(
        label,
        hour,
        Object.entries(times).map(([workload, values]) =>
          sampleWorkloadFigures(
            [sampleMetric(values), sampleMetric(values, { metric: 'second' })],
            { workload },
          ),
        ),
      ),
    ),
  };
}

function overall(
  own: readonly Times[],
  other: readonly Times[],
  changes: Partial<ComparisonRequest> = {},
): OverallRow {
  const request = sampleRequest(rig('bench-a', own), [rig('bench-b', other)], changes);
  const [row] = unwrap(compareRigs(request)).overall;
  if (row === undefined) throw new Error('expected an overall row');
  return row;
}

const own: readonly Times[] = [
  { pack: [1], hash: [4], render: [2] },
  { pack: [1.02], hash: [4.1], render: [2.03] },
  { pack: [0.99], hash: [3.95], render: [1.98] },
];
const faster = own.map(({ pack, hash, render }) => ({
  pack: [(pack?.[0] ?? 0) / 2],
  hash: [hash?.[0] ?? 0],
  render: [(render?.[0] ?? 0) * 1.1],
}));

describe('the overall index', () => {
  it('is the geometric mean of one ratio for each workload', () => {
    const { ratio, workloads } = overall(own, faster);
    expect(workloads).toBe(3);
    expect(ratio).toBeCloseTo((2 * 1 * (1 / 1.1)) ** (1 / 3), 12);
  });

  it('says what it is without each workload, so that none hides in it', () => {
    const { without } = overall(own, faster);
    expect(without.map(({ workload }) => workload)).toEqual(['pack', 'hash', 'render']);
    const expected = [Math.sqrt(1 / 1.1), Math.sqrt(2 / 1.1), Math.sqrt(2)];
    for (const [at, { ratio }] of without.entries()) {
      expect(ratio).toBeCloseTo(expected[at] ?? 0, 12);
    }
  });

  it('counts weights, and leaves out what weighs nothing', () => {
    const { ratio, workloads, without } = overall(own, faster, { weights: { pack: 3, render: 0 } });
    expect(workloads).toBe(2);
    expect(ratio).toBeCloseTo(2 ** (3 / 4), 12);
    expect(without.map((one) => one.ratio.toFixed(9))).toEqual(['1.000000000', '2.000000000']);
  });

  it('has the interval of the indices of sittings, whose workloads move together', () => {
    const { low, high } = overall(own, faster);
    const index = (sittings: readonly Times[]): number[] =>
      sittings.map((times) => {
        const logs = Object.values(times).map(([value = 1]) => -Math.log(value));
        return logs.reduce((sum, log) => sum + log, 0) / logs.length;
      });
    const difference = unwrap(meanDifference(index(faster), index(own), 'pooled'));
    const expected = unwrap(estimateInterval(difference));
    expect(Math.log(low ?? 0)).toBeCloseTo(expected.low, 9);
    expect(Math.log(high ?? 0)).toBeCloseTo(expected.high, 9);
  });

  it('takes the widest interval where a sitting lacks a workload', () => {
    const [first = {}, ...others] = own;
    const { pack = [], hash = [] } = first;
    const whole = overall(own, faster);
    const lacking = overall([{ pack, hash }, ...others], faster);
    const width = ({ low, high }: OverallRow): number => Math.log((high ?? 0) / (low ?? 0));
    expect(width(lacking)).toBeGreaterThan(width(whole));
  });

  it('has no interval where a row has none, and no ratio where no row has one', () => {
    const single = overall([{ pack: [1], hash: [1, 1.1] }], [{ pack: [2], hash: [2, 2.1] }]);
    expect([single.low, single.high, single.workloads]).toEqual([null, null, 2]);
    expect(single.ratio).toBeLessThan(0.6);
    expect(overall([{ pack: [0] }], [{ pack: [1] }])).toEqual({
      candidate: 'bench-b',
      ratio: null,
      low: null,
      high: null,
      workloads: 0,
      without: [],
      flags: [],
    });
  });
});

describe('what forbids to say that rigs differ over all', () => {
  const times = [1, 1.001, 0.999, 1.002, 1, 1.001, 0.999, 1.002];

  /** Sittings at these hours, each with a first and a second figure of both workloads. */
  function drifting(
    label: string,
    hours: readonly number[],
    first: readonly number[],
    second: readonly number[],
  ): ComparedRig {
    const sittings = hours.map((hour, at) => {
      const metrics = [
        sampleMetric([first[at] ?? 1]),
        sampleMetric([second[at] ?? 1], { metric: 'second' }),
      ];
      const workloads = ['pack', 'hash'].map((workload) =>
        sampleWorkloadFigures(metrics, { workload }),
      );
      return sampleFigures(label, hour, workloads);
    });
    return { label, sittings };
  }

  function flagsOf(first: readonly number[], second: readonly number[], faster: number) {
    const candidate = times.map((time) => time / faster);
    const request = sampleRequest(
      drifting('bench-a', [0, 1, 2, 3, 20, 21, 22, 23], first, second),
      [drifting('bench-b', [10, 11, 12, 13, 14, 15, 16, 17], candidate, candidate)],
    );
    const { overall: indices, rows } = unwrap(compareRigs(request));
    return { index: indices[0]?.flags, rows: rows.filter((row) => row.flags.includes(drift)) };
  }
  const drift = 'baseline-drift';
  const moved = times.map((time, at) => (at < 4 ? time : time * 1.03));

  it('is a baseline whose own index moved by more than the effect', () => {
    expect(flagsOf(moved, moved, 1.01).index).toEqual([drift]);
    expect(flagsOf(moved, moved, 1.2).index).toEqual([]);
  });

  it('is no drift of a figure that is no part of the index', () => {
    const { index, rows } = flagsOf(times, moved, 1.01);
    expect(rows.length).toBeGreaterThan(0);
    expect(rows.every(({ metric }) => metric === 'second')).toBe(true);
    expect(index).toEqual([]);
  });

  it('is a basis of repeats only', () => {
    const values = { pack: [1, 1.01, 0.99], hash: [1, 1.02, 0.98] };
    expect(overall([values], [values]).flags).toEqual(['repeats-only']);
  });
});
