import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ratioLimits, testEquivalence } from '../../../src/stats/equivalence.ts';
import {
  powerOfEquivalence,
  sampleSizeOfEquivalence,
} from '../../../src/stats/power-equivalence.ts';
import { twoSampleDesign } from '../../../src/stats/power-t.ts';
import { needs } from '../../setup/needs.ts';
import { unwrap } from '../../setup/unwrap.ts';

/** Standard deviation of logarithms from the coefficient of variation of lognormal values. */
const logSd = (cv: number): number => Math.sqrt(Math.log1p(cv * cv));

describe('powerOfEquivalence and sampleSizeOfEquivalence', () => {
  // CRAN package PowerTOST (Owen's Q), checked by integration in scipy 1.17.1.
  const tables = needs.reference('power-tost-ratio');
  it.skipIf(tables.missing)('give the tables for margins of 1, 2 and 5 %', () => {
    const { expected } = JSON.parse(readFileSync(tables.path, 'utf8'));
    expect(expected.table).toHaveLength(24);
    for (const { cv, margin, theta0, n_total, power } of expected.table) {
      const limits = unwrap(ratioLimits(margin));
      const effect = Math.log(theta0);
      const found = unwrap(
        powerOfEquivalence(effect, limits, twoSampleDesign(logSd(cv), n_total / 2)),
      );
      expect(Math.abs(found - power)).toBeLessThan(1e-9);
      expect(unwrap(sampleSizeOfEquivalence(effect, limits, logSd(cv)))).toBe(n_total / 2);
    }
  });

  // S. A. Julious, Stat. Med. 23(12), 2004, table VIII: margin 20 %, power 90 %; totals for both sides.
  it.skipIf(tables.missing)('give the 48 cells of Julious 2004, table VIII', () => {
    const { expected } = JSON.parse(readFileSync(tables.path, 'utf8'));
    const limits = { low: Math.log(0.8), high: Math.log(1.25) };
    let compared = 0;
    for (const { CV, power, ...cells } of expected.julious_VIII_20pct_power90) {
      for (const [name, total] of Object.entries<number>(cells)) {
        const effect = Math.log(Number(name.slice(1)));
        const found = unwrap(sampleSizeOfEquivalence(effect, limits, logSd(CV), { power }));
        expect(found, `${name} at ${CV}`).toBe(total / 2);
        compared += 1;
      }
    }
    expect(compared).toBe(48);
  });

  it('are at most the level at the limits, symmetric between them, and rise with numbers', () => {
    const count = fc.integer({ min: 2, max: 30 });
    const sd = fc.double({ min: 0.2, max: 3, noNaN: true });
    fc.assert(
      fc.property(count, sd, fc.double({ min: 0, max: 0.9, noNaN: true }), (n, spread, effect) => {
        const limits = { low: -1, high: 1 };
        const power = (d: number, size: number): number =>
          unwrap(powerOfEquivalence(d, limits, twoSampleDesign(spread, size)));
        expect(power(1, n)).toBeLessThanOrEqual(0.05 + 1e-12);
        expect(power(effect, n)).toBeCloseTo(power(-effect, n), 12);
        expect(power(effect, n)).toBeGreaterThanOrEqual(power(1, n));
        // A hopeless design can lose a little by one more value: a chance of a tiny spread is what it lived on.
        if (power(effect, n) < 0.3) return;
        expect(power(effect, n + 1)).toBeGreaterThanOrEqual(power(effect, n) - 1e-12);
      }),
      { numRuns: 40 },
    );
  });

  it('agree with the chance of the tests themselves where the spread is known', () => {
    // With very many degrees of freedom the estimate is normal and both tests a fixed window.
    const design = { standardError: 1, degreesOfFreedom: 1e6 };
    const limits = { low: -3, high: 3 };
    const inside = (value: number): boolean =>
      unwrap(testEquivalence({ ...design, value }, limits)).p <= 0.05;
    expect(inside(1.355)).toBe(true);
    expect(inside(1.356)).toBe(false);
    // P(|Z| < 3 − 1.64485) = 0.82463.
    expect(unwrap(powerOfEquivalence(0, limits, design))).toBeCloseTo(0.82463, 4);
  });

  it('refuse what cannot be planned', () => {
    const range = { error: { code: 'out-of-range' } };
    const limits = { low: -1, high: 1 };
    expect(sampleSizeOfEquivalence(1, limits, 1)).toMatchObject(range);
    expect(sampleSizeOfEquivalence(0, { low: 1, high: -1 }, 1)).toMatchObject(range);
    expect(sampleSizeOfEquivalence(0, limits, 0)).toMatchObject(range);
    expect(sampleSizeOfEquivalence(0.999999, limits, 100)).toMatchObject(range);
    expect(sampleSizeOfEquivalence(Number.NaN, limits, 1)).toMatchObject({
      error: { code: 'not-finite' },
    });
    expect(
      powerOfEquivalence(0, limits, { standardError: 1, degreesOfFreedom: 4 }, 0),
    ).toMatchObject(range);
  });
});
