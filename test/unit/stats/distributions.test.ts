import { describe, expect, it } from 'vitest';
import { chiExpectation } from '../../../src/stats/chi-expectation.ts';
import { fUpperTail } from '../../../src/stats/f-tail.ts';
import { noncentralT, noncentralTAbove } from '../../../src/stats/noncentral-t.ts';
import { normalCdf, normalQuantile } from '../../../src/stats/normal.ts';
import { tQuantile, tUpperTail } from '../../../src/stats/t-quantile.ts';
import { reference, relative } from './reference.ts';

// Distribution functions in 40-digit arithmetic, quantiles by R 4.2.2 and scipy 1.17.1.
const { data, expected } = reference('distribution-functions');
const rows = expected.cdf as readonly {
  f: string;
  x: number;
  df: number;
  df1: number;
  df2: number;
  p: number;
  sf: number;
}[];

describe('the tails', () => {
  it("of Student's t are right to 1e-13 of themselves", () => {
    const own = rows.filter(({ f }) => f === 't_cdf');
    expect(own.length).toBeGreaterThan(8);
    for (const { x, df, p, sf } of own) {
      expect(relative(tUpperTail(x, df), sf)).toBeLessThan(1e-13);
      expect(relative(tUpperTail(-x, df), p)).toBeLessThan(1e-13);
    }
  });

  it('of F are right to 1e-12 of themselves', () => {
    const own = rows.filter(({ f }) => f === 'F_cdf');
    expect(own.length).toBeGreaterThan(5);
    for (const { x, df1, df2, sf } of own) {
      expect(relative(fUpperTail(x, df1, df2), sf)).toBeLessThan(1e-12);
    }
    expect(fUpperTail(0, 2, 5)).toBe(1);
    expect(fUpperTail(Number.POSITIVE_INFINITY, 2, 5)).toBe(0);
  });

  it('of the normal are right to 1e-13 of themselves', () => {
    const own = rows.filter(({ f }) => f === 'normal_cdf');
    expect(own.length).toBeGreaterThan(8);
    for (const { x, p, sf } of own) {
      expect(relative(normalCdf(x), p)).toBeLessThan(1e-13);
      expect(relative(normalCdf(-x), sf)).toBeLessThan(1e-13);
    }
  });
});

describe('the quantiles', () => {
  it('of the normal and of t are those of R', () => {
    for (const [at, p] of data.p_normal.entries()) {
      const tolerance = p < 1e-4 ? 2e-8 : 1e-13;
      expect(Math.abs(normalQuantile(p) - expected.qnorm[at])).toBeLessThan(tolerance);
    }
    for (const [row, p] of data.qt_p.entries()) {
      for (const [column, df] of data.qt_df.entries()) {
        expect(relative(tQuantile(p, df), expected.qt[row][column])).toBeLessThan(1e-10);
      }
    }
  });

  // Closed forms: one degree of freedom is Cauchy's distribution, two have the square root below.
  it('of t hold for two and three values, where they are largest', () => {
    for (const p of [0.6, 0.9, 0.975, 0.995, 0.9995, 0.99995]) {
      expect(relative(tQuantile(p, 1), Math.tan(Math.PI * (p - 0.5)))).toBeLessThan(1e-11);
      const two = (2 * p - 1) * Math.sqrt(2 / (4 * p * (1 - p)));
      expect(relative(tQuantile(p, 2), two)).toBeLessThan(1e-12);
    }
    for (const t of [0.1, 1, 12.7, 636, 1e6]) {
      expect(relative(tUpperTail(t, 1), Math.atan(1 / t) / Math.PI)).toBeLessThan(1e-12);
    }
  });
});

describe('noncentralT', () => {
  // The integral in 30-digit arithmetic (mpmath 1.3): t, degrees of freedom, shift, P(T ≤ t).
  it.each([
    [2.0, 1, 0.5, 0.7484855842392901],
    [12.7, 1, 6, 0.6376527675644695],
    [2.2, 1.3, 2.8, 0.25607998652097624],
    [-2.1, 2, -1, 0.2760637666575973],
    [2.2, 3, 2.8, 0.2735944293430085],
    [12.7, 4.5, 6, 0.933165783861039],
    [0.3, 8, 0.5, 0.41735791958136775],
    [63, 1, 40, 0.52553233851401],
    [2.0, 38, 2.8, 0.21396562153968773],
    [2.2, 1000, -1, 0.9993022756288903],
    [12.7, 100000, 6, 0.9999999999893825],
    [2.0, 100000, 2.8, 0.2118562676313604],
  ])('at %f with %f degrees of freedom and shift %f is right to 1e-13', (t, df, shift, p) => {
    expect(Math.abs(noncentralT(t, df, shift) - p)).toBeLessThan(1e-13);
    expect(Math.abs(noncentralTAbove(t, df, shift) - (1 - p))).toBeLessThan(1e-13);
  });

  it("is Student's t without a shift", () => {
    for (const df of [1, 2.5, 10, 300]) {
      for (const t of [-3, 0, 0.7, 5]) {
        expect(Math.abs(noncentralTAbove(t, df, 0) - tUpperTail(t, df))).toBeLessThan(1e-13);
      }
    }
  });

  it('mirrors, and falls as the shift grows', () => {
    for (const df of [1, 4, 50]) {
      expect(noncentralT(1.5, df, 2)).toBeCloseTo(noncentralTAbove(-1.5, df, -2), 13);
      const falling = [-1, 0, 1, 2, 5].map((shift) => noncentralT(1.5, df, shift));
      expect(falling).toEqual(falling.toSorted((a, b) => b - a));
    }
  });
});

describe('chiExpectation', () => {
  const one = { of: () => 1, steepness: 1 };

  it('is one of one, and has the known moments', () => {
    for (const df of [1, 1.3, 2, 5, 38, 1e4, 1e6]) {
      expect(chiExpectation(df, one)).toBeCloseTo(1, 12);
      // The mean of the variance over its true value is one.
      expect(chiExpectation(df, { ...one, of: (w) => w * w })).toBeCloseTo(1, 12);
    }
    // The mean of s over σ is c4 (n = df + 1).
    for (const [at, n] of data.c4_n.entries()) {
      const found = chiExpectation(n - 1, { ...one, of: (w) => w });
      expect(found).toBeCloseTo(expected.c4[at], 12);
    }
  });

  it('counts up to its limit only', () => {
    // With two degrees of freedom P(w ≤ x) is 1 − exp(−x²).
    expect(chiExpectation(2, { ...one, most: 0.7 })).toBeCloseTo(1 - Math.exp(-0.49), 12);
    expect(chiExpectation(2, { ...one, most: 0 })).toBe(0);
    expect(chiExpectation(1e6, { ...one, most: 0.5 })).toBe(0);
  });
});
