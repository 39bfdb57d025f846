import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { median, nearestRank, type QuantileType, quantile } from '../../../src/stats/quantile.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference } from './reference.ts';

const types: readonly QuantileType[] = [1, 2, 3, 4, 5, 6, 7, 8, 9];

// Hyndman & Fan's nine types computed by R 4.2.2 and numpy.
const { data, expected } = reference('quantile-types-1-9');

describe('quantile', () => {
  it.each(types)('is type %i of Hyndman and Fan, as R computes it', (type) => {
    for (const [at, p] of data.p.entries()) {
      expect(unwrap(quantile(data.v, p, type))).toBeCloseTo(expected.v_types[type - 1][at], 12);
      expect(unwrap(quantile(data.nearest_rank_vector, p, type))).toBeCloseTo(
        expected.nearest_rank_vector_types[type - 1][at],
        12,
      );
    }
  });

  // NIST/SEMATECH e-Handbook 7.2.6.2: 12 gauge readings, the rule p(N + 1) is type 6.
  it('gives the 90th percentile of handbook 7.2.6.2, and R the other types of it', () => {
    const gauge = reference('nist-7.2.6.2-percentile');
    const { y } = gauge.data;
    expect(unwrap(quantile(y, 0.9, 6))).toBeCloseTo(gauge.expected.p90_type6, 4);
    expect(unwrap(quantile(y, 0.9))).toBeCloseTo(gauge.expected.p90_R7, 4);
    const byP = { 0.25: 'q25', 0.5: 'q50', 0.9: 'q90' };
    for (const [p, name] of Object.entries(byP)) {
      for (const type of types) {
        const found = unwrap(quantile(y, Number(p), type));
        expect(found).toBeCloseTo(gauge.verified_by[`${name}_types_1_to_9`][type - 1], 12);
      }
    }
  });

  it('is type 7 when nothing is said', () => {
    expect(quantile(data.v, 0.3)).toEqual(quantile(data.v, 0.3, 7));
  });

  it('rises with p, stays within the values, follows shift and scale, ignores the order', () => {
    const values = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 1, maxLength: 30 });
    const p = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(values, p, p, fc.constantFrom(...types), (sample, p1, p2, type) => {
        const [low, high] = [Math.min(p1, p2), Math.max(p1, p2)];
        const found = unwrap(quantile(sample, low, type));
        expect(found).toBeLessThanOrEqual(unwrap(quantile(sample, high, type)) + 1e-9);
        expect(found).toBeGreaterThanOrEqual(Math.min(...sample));
        expect(found).toBeLessThanOrEqual(Math.max(...sample));
        const moved = sample.map((value) => 2 * value + 8).reverse();
        expect(unwrap(quantile(moved, low, type))).toBeCloseTo(2 * found + 8, 9);
      }),
    );
  });
});

describe('nearestRank', () => {
  it('gives the published ranks of 15 20 35 40 50', () => {
    for (const [name, value] of Object.entries(expected.nearest_rank)) {
      const p = Number(name.slice(1)) / 100;
      expect(unwrap(nearestRank(data.nearest_rank_vector, p))).toBe(value);
    }
  });

  it('takes p·n for whole where only its binary fraction is not', () => {
    // 0.07 · 100 is 7.000000000000001 in binary: still the seventh.
    const values = Array.from({ length: 100 }, (_, at) => at + 1);
    for (let percent = 1; percent <= 100; percent += 1) {
      expect(unwrap(nearestRank(values, percent / 100))).toBe(percent);
    }
  });
});

describe('median', () => {
  it('lies in the middle', () => {
    expect(unwrap(median(data.v))).toBe(expected.robust_v.median);
    expect(unwrap(median([3, 1, 2, 10]))).toBe(2.5);
  });

  it('leaves the values it is given in their order', () => {
    const values = Object.freeze([3, 1, 2]);
    expect(unwrap(median(values))).toBe(2);
    expect(values).toEqual([3, 1, 2]);
  });

  it('refuses a probability outside 0 to 1 and an empty sample', () => {
    expect(quantile([1], 1.1)).toMatchObject({ error: { code: 'out-of-range' } });
    expect(quantile([1], Number.NaN)).toMatchObject({ error: { code: 'out-of-range' } });
    expect(quantile([], 0.5)).toMatchObject({ error: { code: 'too-few-values' } });
  });
});
