import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cusum } from '../../../src/stats/cusum.ts';
import { ewma, ewmaReach } from '../../../src/stats/ewma.ts';
import { individualsLimits } from '../../../src/stats/individuals-limits.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference, relative } from './reference.ts';

describe('individualsLimits', () => {
  // NIST/SEMATECH e-Handbook 6.3.2.2, flow rate of ten batches.
  it('gives the limits of the handbook, which rounds d2 to 1.128', () => {
    const { data, expected, verified_by } = reference('nist-6.3.2.2-individuals-chart');
    const limits = unwrap(individualsLimits(data.x));
    expect(limits.center).toBeCloseTo(expected.center, 10);
    expect(limits.meanMovingRange).toBeCloseTo(expected.mr_bar, 4);
    expect(Math.abs(limits.high - expected.ucl)).toBeLessThan(0.002);
    expect(Math.abs(limits.low - expected.lcl)).toBeLessThan(0.002);
    const exact = verified_by.full_precision;
    expect(relative(limits.high, exact.ucl_exact_d2)).toBeLessThan(1e-12);
    expect(relative(limits.low, exact.lcl_exact_d2)).toBeLessThan(1e-12);
    expect(data.x.filter((x: number) => x < limits.low || x > limits.high)).toHaveLength(
      expected.points_out,
    );
  });

  it('says so where nothing tells a spread', () => {
    expect(individualsLimits([1])).toMatchObject({ error: { code: 'too-few-values' } });
    expect(individualsLimits([2, 2, 2])).toMatchObject({ error: { code: 'no-spread' } });
    expect(individualsLimits([2, Number.NaN])).toMatchObject({ error: { code: 'not-finite' } });
  });
});

describe('ewma', () => {
  // NIST/SEMATECH e-Handbook 6.3.2.4.
  it('gives the series and the limits of the handbook', () => {
    const { data, expected, verified_by } = reference('nist-6.3.2.4-ewma-chart');
    const series = unwrap(ewma(data.x, { target: data.target, lambda: data.lam }));
    const [first, ...printed] = expected.ewma;
    expect(first).toBe(data.target);
    expect(series).toHaveLength(printed.length);
    for (const [at, value] of series.entries()) {
      expect(Math.abs(value - printed[at])).toBeLessThan(0.0051);
      expect(relative(value, verified_by.full_precision.ewma[at + 1])).toBeLessThan(1e-12);
    }
    const reach = ewmaReach({ sigma: data.s, lambda: data.lam, width: data.k });
    expect(relative(data.target + reach, verified_by.full_precision.ucl)).toBeLessThan(1e-12);
    expect(Math.abs(data.target + reach - expected.ucl)).toBeLessThan(1e-3);
    expect(Math.abs(data.target - reach - expected.lcl)).toBeLessThan(1e-3);
  });

  it('is the values themselves with a weight of one, and reaches further the fewer values are behind the target', () => {
    expect(unwrap(ewma([3, 5, 4], { target: 0, lambda: 1 }))).toEqual([3, 5, 4]);
    const reach = (baseline: number): number =>
      ewmaReach({ sigma: 1, lambda: 0.2, width: 3, baseline });
    expect(reach(8)).toBeGreaterThan(reach(20));
    expect(reach(Number.POSITIVE_INFINITY)).toBeCloseTo(1, 12);
    expect(ewma([1], { target: 0, lambda: 0 })).toMatchObject({ error: { code: 'out-of-range' } });
  });
});

describe('cusum', () => {
  // NIST/SEMATECH e-Handbook 6.3.2.3.
  it('gives the sums and signals of the handbook', () => {
    const { data, expected, verified_by } = reference('nist-6.3.2.3-cusum');
    const { upper, lower } = unwrap(cusum(data.x, { target: data.target, slack: data.k }));
    for (const at of data.x.keys()) {
      expect(Math.abs((upper[at] ?? NaN) - expected.S_hi[at])).toBeLessThan(0.0051);
      expect(Math.abs((lower[at] ?? NaN) - expected.S_lo[at])).toBeLessThan(0.0051);
      expect(upper[at]).toBeCloseTo(verified_by.full_precision.S_hi[at], 9);
    }
    const signals = (sums: readonly number[]): number[] =>
      sums.flatMap((sum, at) => (sum > data.h ? [at + 1] : []));
    expect(signals(upper)).toEqual(expected.signals_upper);
    expect(signals(lower)).toEqual(expected.signals_lower);
  });

  it('turns upper and lower with the sign of the values', () => {
    const values = fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 1, maxLength: 30 });
    fc.assert(
      fc.property(values, (sample) => {
        const one = unwrap(cusum(sample, { target: 3, slack: 2 }));
        const other = unwrap(
          cusum(
            sample.map((v) => -v),
            { target: -3, slack: 2 },
          ),
        );
        expect(other).toEqual({ upper: one.lower, lower: one.upper });
      }),
    );
    expect(cusum([], { target: 0, slack: 1 })).toMatchObject({ error: { code: 'too-few-values' } });
  });
});
