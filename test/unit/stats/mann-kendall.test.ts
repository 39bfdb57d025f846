import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mannKendall } from '../../../src/stats/mann-kendall.ts';
import { senSlope } from '../../../src/stats/sen-slope.ts';
import { needs } from '../../setup/needs.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { relative } from './reference.ts';

// CRAN package trend 1.1.6: Nile flow (with ties) and sediment at Maxau; R 4.2.2.
const rivers = needs.reference('trend-mann-kendall-r');

describe('mannKendall', () => {
  it.skipIf(rivers.missing)('gives the trends of the Nile and at Maxau', () => {
    const { data, expected } = JSON.parse(readFileSync(rivers.path, 'utf8'));
    const nile = unwrap(mannKendall(data.Nile));
    expect(nile).toMatchObject({ s: expected.nile.S, method: 'normal' });
    expect(relative(nile.variance, expected.nile.varS)).toBeLessThan(1e-12);
    expect(relative(nile.tau, expected.nile.tau)).toBeLessThan(1e-12);
    expect(relative(nile.p, expected.nile.p)).toBeLessThan(1e-10);
    const maxau = unwrap(mannKendall(data.maxau_s));
    expect(maxau.s).toBe(expected.maxau.S);
    expect(relative(maxau.p, expected.maxau.p)).toBeLessThan(1e-10);
  });

  it.skipIf(rivers.missing)('gives the trends of two months at Nottingham, with ties', () => {
    const { data, expected, verified_by } = JSON.parse(readFileSync(rivers.path, 'utf8'));
    const month = (number: number): number[] =>
      data.nottem_monthly_1920_1939.filter((_: number, at: number) => at % 12 === number - 1);
    const { aug, sep } = verified_by.full_precision;
    expect(unwrap(mannKendall(month(8)))).toMatchObject({ s: expected.nottem_aug.S });
    expect(relative(unwrap(mannKendall(month(8))).p, aug.p)).toBeLessThan(1e-9);
    expect(relative(unwrap(mannKendall(month(9))).p, sep.p)).toBeLessThan(1e-9);
  });

  // Exact p of Kendall's tau, scipy 1.17.1 kendalltau(method='exact').
  it.each([
    [[1, 2, 3, 4], 0.08333333333333333],
    [[3, 1, 2, 5, 4], 0.48333333333333334],
    [[4, 2, 7, 9, 5, 11, 8], 0.1361111111111111],
    [[1, 2, 3, 4, 5, 6, 7, 8, 10, 9], 5.5114638447971785e-6],
  ])('counts all orders of few values: %j', (values, p) => {
    const found = unwrap(mannKendall(values));
    expect(found.method).toBe('exact');
    expect(relative(found.p, p)).toBeLessThan(1e-12);
  });

  it('depends on the order of sizes only, and turns its sign with time', () => {
    const values = fc.array(fc.integer({ min: -30, max: 30 }), { minLength: 3, maxLength: 25 });
    fc.assert(
      fc.property(values, (sample) => {
        fc.pre(new Set(sample).size > 1);
        const found = unwrap(mannKendall(sample));
        expect(unwrap(mannKendall(sample.map((v) => Math.exp(v / 9))))).toEqual(found);
        expect(unwrap(mannKendall(sample.toReversed()))).toEqual({
          ...found,
          s: 0 - found.s,
          tau: 0 - found.tau,
        });
        expect(Math.abs(found.tau)).toBeLessThanOrEqual(1 + 1e-12);
        expect(found.p > 0 && found.p <= 1).toBe(true);
      }),
    );
  });

  it('says so where there is no trend to look for', () => {
    expect(mannKendall([1, 2])).toMatchObject({ error: { code: 'too-few-values' } });
    expect(mannKendall([3, 3, 3])).toMatchObject({ error: { code: 'no-spread' } });
    expect(mannKendall([3, Number.NaN, 3])).toMatchObject({ error: { code: 'not-finite' } });
  });
});

describe('senSlope', () => {
  it.skipIf(rivers.missing)('gives the slope at Maxau and its interval', () => {
    const { data, expected } = JSON.parse(readFileSync(rivers.path, 'utf8'));
    const { slope, interval } = unwrap(senSlope(data.maxau_s));
    expect(relative(slope, expected.maxau_sens.slope)).toBeLessThan(1e-12);
    expect(relative(interval?.low ?? NaN, expected.maxau_sens.ci[0])).toBeLessThan(1e-12);
    expect(relative(interval?.high ?? NaN, expected.maxau_sens.ci[1])).toBeLessThan(1e-12);
  });

  it('is the slope of a line, whatever a single value does', () => {
    const line = Array.from({ length: 12 }, (_, at) => 3 + 0.5 * at);
    expect(unwrap(senSlope(line)).slope).toBe(0.5);
    expect(unwrap(senSlope(line.with(4, 1000))).slope).toBeCloseTo(0.5, 12);
  });

  it('follows scale and shift', () => {
    const values = fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 10, maxLength: 20 });
    fc.assert(
      fc.property(values, (sample) => {
        const { slope, interval } = unwrap(senSlope(sample));
        const moved = unwrap(senSlope(sample.map((v) => 2 * v + 5)));
        expect(moved.slope).toBeCloseTo(2 * slope, 10);
        if (interval === null) return;
        expect(moved.interval?.low).toBeCloseTo(2 * interval.low, 10);
        expect(interval.low).toBeLessThanOrEqual(slope);
        expect(interval.high).toBeGreaterThanOrEqual(slope);
      }),
    );
  });

  it('has no interval below ten values nor of equal ones', () => {
    expect(unwrap(senSlope([1, 2, 4]))).toEqual({ slope: 1.5, interval: null });
    expect(unwrap(senSlope(new Array(12).fill(4)))).toEqual({ slope: 0, interval: null });
    expect(senSlope([1, 2])).toMatchObject({ error: { code: 'too-few-values' } });
    expect(senSlope(Array.from({ length: 3001 }, (_, at) => at))).toMatchObject({
      error: { code: 'out-of-range' },
    });
    expect(senSlope([1, 2, 3], 0)).toMatchObject({ error: { code: 'out-of-range' } });
  });
});
