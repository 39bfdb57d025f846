import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { geometricMean, weightedGeometricMean } from '../../../src/stats/geometric-mean.ts';
import { mean } from '../../../src/stats/mean.ts';
import { geometricMeanInterval, meanInterval } from '../../../src/stats/mean-interval.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference, relative } from './reference.ts';

const ratios = fc.array(fc.double({ min: 1e-3, max: 1e3, noNaN: true }), {
  minLength: 2,
  maxLength: 20,
});

describe('geometricMean', () => {
  // R. Neal, 1986, after Fleming & Wallace: five tests, eight configurations, printed to two decimals.
  it('gives the published geometric and arithmetic means of eight configurations', () => {
    const { data, expected, verified_by } = reference('geomean-neal-1986');
    for (const [at] of data.processors.entries()) {
      const column = Object.values<number[]>(data.tests).map((row) => row[at] ?? NaN);
      expect(Math.abs(unwrap(mean(column)) - expected.arithmetic_mean[at])).toBeLessThan(0.00501);
      const found = unwrap(geometricMean(column));
      expect(Math.abs(found - expected.geometric_mean[at])).toBeLessThan(0.00501);
      expect(relative(found, verified_by.full_precision.geometric[at])).toBeLessThan(1e-14);
    }
  });

  // Null & Lobur, tables 10.4 and 10.5: time on the reference over time on the system.
  it('gives the published means of ratios to two references', () => {
    const { data, expected } = reference('geomean-null-lobur');
    const over = (to: string, of: string): number =>
      unwrap(
        geometricMean(data.seconds[to].map((s: number, i: number) => s / data.seconds[of][i])),
      );
    expect(over('B', 'A')).toBeCloseTo(expected.gm_A_ref_B, 4);
    expect(over('B', 'C')).toBeCloseTo(expected.gm_C_ref_B, 4);
    expect(over('C', 'A')).toBeCloseTo(expected.gm_A_ref_C, 4);
    expect(over('C', 'B')).toBeCloseTo(expected.gm_B_ref_C, 4);
  });

  // Times as remembered from Fleming & Wallace 1986; the means are recomputed from them.
  it('does not depend on the reference, where the arithmetic mean does', () => {
    const { data, expected } = reference('geomean-fleming-wallace-1986');
    for (const side of ['R', 'M']) {
      for (const [name, { am, gm }] of Object.entries<{ am: number; gm: number }>(
        expected[`normalized_to_${side}`],
      )) {
        const normal = data.times[name].map((t: number, i: number) => t / data.times[side][i]);
        expect(relative(unwrap(geometricMean(normal)), gm)).toBeLessThan(1e-14);
        expect(relative(unwrap(mean(normal)), am)).toBeLessThan(1e-14);
      }
    }
  });

  it('turns over with its values, scales with them and ignores their order', () => {
    fc.assert(
      fc.property(ratios, fc.double({ min: 1e-3, max: 1e3, noNaN: true }), (values, scale) => {
        const found = unwrap(geometricMean(values));
        expect(relative(unwrap(geometricMean(values.map((v) => 1 / v))), 1 / found)).toBeLessThan(
          1e-12,
        );
        expect(
          relative(unwrap(geometricMean(values.map((v) => v * scale))), found * scale),
        ).toBeLessThan(1e-12);
        expect(relative(unwrap(geometricMean([...values].reverse())), found)).toBeLessThan(1e-12);
        expect(found).toBeLessThanOrEqual(unwrap(mean(values)) * (1 + 1e-12));
      }),
    );
  });

  it('neither overflows nor underflows', () => {
    expect(unwrap(geometricMean([1e300, 1e300, 1e300]))).toBeCloseTo(1e300, -287);
    expect(relative(unwrap(geometricMean([1e-300, 1e-300, 1])), 1e-200)).toBeLessThan(1e-12);
  });

  it('has an interval that is the one of the logarithms', () => {
    const values = [1.01, 1.05, 0.98, 1.1];
    const { low, high } = unwrap(geometricMeanInterval(values));
    const logs = unwrap(meanInterval(values.map(Math.log)));
    expect(Math.log(low)).toBeCloseTo(logs.low, 14);
    expect(Math.log(high)).toBeCloseTo(logs.high, 14);
    expect(geometricMeanInterval([1, 0])).toMatchObject({ error: { code: 'not-positive' } });
    expect(geometricMeanInterval([1])).toMatchObject({ error: { code: 'too-few-values' } });
  });
});

describe('weightedGeometricMean', () => {
  it('counts a weight of two like the value twice, and ignores the size of all weights together', () => {
    const twice = unwrap(geometricMean([2, 3, 3]));
    expect(unwrap(weightedGeometricMean([2, 3], [1, 2]))).toBeCloseTo(twice, 14);
    expect(unwrap(weightedGeometricMean([2, 3], [10, 20]))).toBeCloseTo(twice, 14);
    expect(unwrap(weightedGeometricMean([2, 3], [0, 5]))).toBeCloseTo(3, 14);
  });

  it('refuses weights that are missing, negative or all zero', () => {
    for (const weights of [[1], [1, -1], [0, 0], [1, Number.NaN], [1, Number.POSITIVE_INFINITY]]) {
      expect(weightedGeometricMean([2, 3], weights)).toMatchObject({
        error: { code: 'out-of-range' },
      });
    }
    expect(weightedGeometricMean([2, 0], [1, 1])).toMatchObject({
      error: { code: 'not-positive' },
    });
  });
});
