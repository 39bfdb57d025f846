import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generalizedEsd, mayHaveOutliers } from '../../../src/stats/generalized-esd.ts';
import { needs } from '../../setup/needs.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference } from './reference.ts';

describe('generalizedEsd', () => {
  // B. Rosner 1983, as NIST/SEMATECH e-Handbook 1.3.5.17.3 prints it: 54 values, up to ten outliers.
  const rosner = needs.reference('nist-1.3.5.17.3-gesd');
  it.skipIf(rosner.missing)("gives all twenty printed values of Rosner's example", () => {
    const { data, expected } = JSON.parse(readFileSync(rosner.path, 'utf8'));
    const { steps, outliers } = unwrap(generalizedEsd(data.y, data.max_outliers, data.alpha));
    for (const [at, step] of steps.entries()) {
      expect(Math.abs(step.deviation - expected.R[at])).toBeLessThan(5.01e-7);
      expect(Math.abs(step.critical - expected.lam[at])).toBeLessThan(5.01e-7);
    }
    expect(steps).toHaveLength(10);
    expect(outliers.map(({ value }) => value)).toEqual(expected.outliers);
    // The first step alone finds nothing: outliers hide each other there.
    expect(steps[0]?.deviation).toBeLessThan(steps[0]?.critical ?? NaN);
  });

  // USP <1010>, appendix C: ten measurements. Its printed second mean is wrong (99.95 for 99.967); its other figures hold.
  it('gives the two steps of USP 1010, without its misprint', () => {
    const { data, expected, verified_by } = reference('usp-1010-outlier-tests');
    const { steps, outliers } = unwrap(generalizedEsd(data.y, 2));
    expect(steps[0]?.deviation).toBeCloseTo(-expected.step1_normalized_95_7, 3);
    for (const [at, { value, R, lam }] of verified_by.full_precision.esd.entries()) {
      expect(steps[at]?.value).toBe(value);
      expect(steps[at]?.deviation).toBeCloseTo(R, 12);
      expect(steps[at]?.critical).toBeCloseTo(lam, 12);
    }
    expect(outliers).toMatchObject([{ index: 9, value: 95.7 }]);
  });

  // NIST/SEMATECH e-Handbook 1.3.5.17.1: Grubbs' test is the first step.
  it("has Grubbs' test as its first step", () => {
    const { data, expected } = reference('nist-1.3.5.17.1-grubbs');
    const [first] = unwrap(generalizedEsd(data.y, 1)).steps;
    expect(first?.deviation).toBeCloseTo(expected.G, 6);
  });

  it('finds the same values after shift, scale and a change of order', () => {
    const values = fc.array(fc.integer({ min: -1000, max: 1000 }), {
      minLength: 15,
      maxLength: 40,
    });
    fc.assert(
      fc.property(values, (sample) => {
        fc.pre(new Set(sample).size === sample.length);
        // Symmetric samples have two values equally far out: which comes first is then a matter of rounding.
        const centre = sample.reduce((a, b) => a + b, 0) / sample.length;
        fc.pre(new Set(sample.map((v) => Math.abs(v - centre).toFixed(6))).size === sample.length);
        const [found] = unwrap(generalizedEsd(sample, 1)).steps;
        const moved = sample.map((value) => 4 * value - 9).reverse();
        const [other] = unwrap(generalizedEsd(moved, 1)).steps;
        expect(other?.value).toBe(4 * (found?.value ?? NaN) - 9);
        expect(other?.deviation).toBeCloseTo(found?.deviation ?? NaN, 9);
        expect(other?.index).toBe(sample.length - 1 - (found?.index ?? NaN));
      }),
    );
  });

  it('finds nothing in equal values, and stops when only equal ones are left', () => {
    expect(unwrap(generalizedEsd([2, 2, 2, 2, 2], 2))).toEqual({ steps: [], outliers: [] });
    const { steps, outliers } = unwrap(generalizedEsd([2, 2, 2, 2, 2, 2, 2, 9], 3));
    expect(steps).toHaveLength(1);
    expect(outliers).toMatchObject([{ value: 9, index: 7 }]);
  });

  it('counts every step up to the last beyond its critical value', () => {
    const even = Array.from({ length: 20 }, (_, at) => at);
    expect(unwrap(generalizedEsd([...even, 500, 90], 3)).outliers).toMatchObject([
      { value: 500, index: 20 },
      { value: 90, index: 21 },
    ]);
  });

  it('refuses too few values and an impossible number of outliers', () => {
    expect(generalizedEsd([1, 2, 3], 2)).toMatchObject({ error: { code: 'too-few-values' } });
    expect(generalizedEsd([1, 2], 1)).toMatchObject({ error: { code: 'too-few-values' } });
    for (const most of [0, 1.5, Number.NaN]) {
      expect(generalizedEsd([1, 2, 3, 4], most)).toMatchObject({ error: { code: 'out-of-range' } });
    }
    expect(generalizedEsd([1, 2, 3, 4], 1, 0)).toMatchObject({ error: { code: 'out-of-range' } });
  });
});

describe('mayHaveOutliers', () => {
  const value = fc.double({ min: -3, max: 3, noNaN: true });
  const odd = fc.double({ min: -1e6, max: 1e6, noNaN: true });

  it('never says no where the test finds an outlier, wherever the values lie', () => {
    const property = fc.property(
      fc.array(fc.oneof({ weight: 20, arbitrary: value }, { weight: 1, arbitrary: odd }), {
        minLength: 15,
        maxLength: 60,
      }),
      fc.integer({ min: 1, max: 10 }),
      fc.constantFrom(0, 1e3, -1e9),
      (values, most, shift) => {
        const moved = values.map((one) => one + shift);
        const found = unwrap(generalizedEsd(moved, most, 0.05)).outliers.length > 0;
        if (found) expect(mayHaveOutliers(moved, most, 0.05)).toBe(true);
      },
    );
    fc.assert(property, { numRuns: 1000 });
  });

  it('says no of values that do not stand out, which is what it is for', () => {
    const even = Array.from({ length: 100 }, (_, at) => Math.sin(at));
    expect(mayHaveOutliers(even, 10, 0.05)).toBe(false);
    expect(mayHaveOutliers([...even, 9], 10, 0.05)).toBe(true);
  });
});
