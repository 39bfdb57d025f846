import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mean } from '../../../src/stats/mean.ts';
import { standardDeviation } from '../../../src/stats/standard-deviation.ts';
import { needs } from '../../setup/needs.ts';
import { unwrap } from '../../setup/unwrap.ts';

// NIST StRD, Univariate Summary Statistics. NumAcc1 to 4 follow a stated rule and are generated; the other sets are
// read where they may be kept. Certified values as published (numacc: also in the sets' descriptions).
const alternating = (first: number, odd: number, even: number): number[] => [
  first,
  ...Array.from({ length: 1000 }, (_, index) => (index % 2 === 0 ? odd : even)),
];
const numAcc = [
  {
    name: 'NumAcc1',
    y: [10_000_001, 10_000_003, 10_000_002],
    mean: 10_000_002,
    sd: 1,
    digits: 1e-14,
  },
  { name: 'NumAcc2', y: alternating(1.2, 1.1, 1.3), mean: 1.2, sd: 0.1, digits: 1e-14 },
  {
    name: 'NumAcc3',
    y: alternating(1000000.2, 1000000.1, 1000000.3),
    mean: 1000000.2,
    sd: 0.1,
    digits: 1e-9,
  },
  // In binary64 the data themselves are only known to 5.6e-9 of the spread (see the reference's note).
  {
    name: 'NumAcc4',
    y: alternating(10000000.2, 10000000.1, 10000000.3),
    mean: 10000000.2,
    sd: 0.1,
    digits: 1e-8,
  },
];

function relative(found: number, expected: number): number {
  return Math.abs(found - expected) / Math.abs(expected);
}

describe('mean and standard deviation', () => {
  it.each(numAcc)('reach the certified values of StRD $name', ({ y, mean: m, sd, digits }) => {
    expect(relative(unwrap(mean(y)), m)).toBeLessThan(1e-15);
    expect(relative(unwrap(standardDeviation(y)), sd)).toBeLessThan(digits);
  });

  for (const id of [
    'strd-univ-lew',
    'strd-univ-lottery',
    'strd-univ-mavro',
    'strd-univ-pidigits',
  ]) {
    const set = needs.reference(id);
    it.skipIf(set.missing)(`reach the certified values of ${id}`, () => {
      const { data, expected } = JSON.parse(readFileSync(set.path, 'utf8'));
      expect(relative(unwrap(mean(data.y)), expected.mean)).toBeLessThan(1e-14);
      expect(relative(unwrap(standardDeviation(data.y)), expected.stdev_n_minus_1)).toBeLessThan(
        1e-12,
      );
    });
  }

  it('do not depend on the order, follow a shift and a change of scale', () => {
    const values = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), {
      minLength: 2,
      maxLength: 50,
    });
    fc.assert(
      fc.property(values, fc.double({ min: 0.001, max: 1000, noNaN: true }), (sample, scale) => {
        const size = Math.max(1, ...sample.map(Math.abs));
        const sd = unwrap(standardDeviation(sample));
        const reversed = [...sample].reverse();
        expect(Math.abs(unwrap(standardDeviation(reversed)) - sd)).toBeLessThanOrEqual(1e-9 * size);
        const scaled = sample.map((value) => value * scale);
        expect(Math.abs(unwrap(standardDeviation(scaled)) - sd * scale)).toBeLessThanOrEqual(
          1e-9 * size * scale,
        );
        expect(Math.abs(unwrap(mean(scaled)) - unwrap(mean(sample)) * scale)).toBeLessThanOrEqual(
          1e-9 * size * scale,
        );
      }),
    );
  });

  it('neither overflow nor underflow, and say so where a figure is too large', () => {
    expect(unwrap(standardDeviation([1e-200, 2e-200, 3e-200])) / 1e-200).toBeCloseTo(1, 12);
    expect(unwrap(standardDeviation([1e200, 2e200, 3e200])) / 1e200).toBeCloseTo(1, 12);
    expect(mean([1e308, 1e308, 1e308])).toEqual({ ok: true, value: 1e308 });
    expect(standardDeviation([-1.7e308, 1.7e308])).toMatchObject({ error: { code: 'not-finite' } });
  });

  it('say why there is no figure for too few or broken values', () => {
    expect(mean([])).toMatchObject({ error: { code: 'too-few-values' } });
    expect(mean([1, Number.NaN])).toMatchObject({ error: { code: 'not-finite' } });
    expect(mean([Number.POSITIVE_INFINITY])).toMatchObject({ error: { code: 'not-finite' } });
    expect(standardDeviation([4])).toMatchObject({ error: { code: 'too-few-values' } });
    expect(standardDeviation([4, 4])).toEqual({ ok: true, value: 0 });
  });
});
