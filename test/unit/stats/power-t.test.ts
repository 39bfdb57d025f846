import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { noncentralTAbove } from '../../../src/stats/noncentral-t.ts';
import {
  detectableEffect,
  powerOfT,
  sampleSizeOfT,
  twoSampleDesign,
} from '../../../src/stats/power-t.ts';
import { tQuantile } from '../../../src/stats/t-quantile.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference, relative } from './reference.ts';

const powerFor = (effect: number, sd: number, count: number, alpha = 0.05): number =>
  unwrap(powerOfT(effect, twoSampleDesign(sd, count), alpha));

describe('powerOfT and sampleSizeOfT', () => {
  // R 4.2.2 and scipy 1.17.1, noncentral t with both tails: 1, 2 and 5 % at a variation of 0.5 to 3 %.
  it('give the numbers needed for differences of a few per cent', () => {
    const { expected } = reference('power-n-for-percent-differences');
    expect(expected.rows).toHaveLength(24);
    for (const row of expected.rows) {
      const { cv, diff, power } = row;
      expect(unwrap(sampleSizeOfT(diff, cv, { power }))).toBe(row.n_min);
      expect(Math.abs(powerFor(diff, cv, row.n_min) - row.power_at_n_min)).toBeLessThan(1e-9);
      if (row.power_at_n_min_minus_1 !== 'NA') {
        const less = powerFor(diff, cv, row.n_min - 1);
        expect(Math.abs(less - row.power_at_n_min_minus_1)).toBeLessThan(1e-9);
      }
      if (row.n_exact !== 'NA') {
        expect(Math.abs(powerFor(diff, cv, row.n_exact) - power)).toBeLessThan(1e-4);
      }
    }
  });

  // J. Cohen 1988, tables 2.3: read from coarse tables, so one off up to 100 and the printed number rounded beyond.
  it("give Cohen's numbers, and the exact ones of R", () => {
    const { expected, verified_by } = reference('power-cohen-1988');
    for (const [at, { d, n_two_tail_05, n_two_tail_01 }] of expected.cells.entries()) {
      const exact = verified_by.table[at];
      for (const [alpha, printed, full] of [
        [0.05, n_two_tail_05, exact.R_n05],
        [0.01, n_two_tail_01, exact.R_n01],
      ]) {
        const found = unwrap(sampleSizeOfT(d, 1, { alpha }));
        expect(found).toBe(Math.ceil(full));
        expect(Math.abs(found - printed)).toBeLessThanOrEqual(printed <= 100 ? 2 : 0.02 * printed);
        expect(Math.abs(powerFor(d, 1, full, alpha) - 0.8)).toBeLessThan(2e-5);
      }
    }
    for (const { d, n } of verified_by.n05_power90) {
      expect(unwrap(sampleSizeOfT(d, 1, { power: 0.9 }))).toBe(Math.ceil(n));
    }
  });

  it("give Cohen's exercises and the example of R's power.t.test", () => {
    const { expected } = reference('power-cohen-1988');
    const { exercises, R_doc } = expected;
    // R leaves the far tail out: compared without it to ten digits, with it to what it is worth.
    const near = (d: number, n: number, alpha: number): number =>
      noncentralTAbove(tQuantile(1 - alpha, 2 * n - 2), 2 * n - 2, d * Math.sqrt(n / 2));
    const exercise = exercises.ex_2_1_p40_power_d_0714_n30;
    expect(near(2 / 2.8, 30, 0.025)).toBeCloseTo(exercise, 10);
    expect(powerFor(2 / 2.8, 1, 30)).toBeCloseTo(exercise, 5);
    expect(near(1, 20, 0.025)).toBeCloseTo(R_doc.power_n20_delta1, 10);
    expect(powerFor(1, 1, 20)).toBeCloseTo(R_doc.power_n20_delta1, 6);
    // One-sided: numbers found by R for 75 and 90 %.
    expect(near(0.3, exercises.ex_2_10_p59_n_d03_power75_one_sided, 0.05)).toBeCloseTo(0.75, 6);
    expect(near(1, R_doc.n_power90_delta1_one_sided, 0.05)).toBeCloseTo(0.9, 5);
    // One sample, 60 values.
    const one = noncentralTAbove(tQuantile(0.95, 59), 59, 0.2 * Math.sqrt(60));
    expect(one).toBeCloseTo(exercises.ex_2_5_p47_one_sample_d02_n60_a10, 6);
    expect(unwrap(sampleSizeOfT(1, 1, { power: 0.9 }))).toBe(Math.ceil(R_doc.n_power90_delta1));
  });

  it('are the level itself without an effect, and rise with effect and numbers', () => {
    const count = fc.integer({ min: 2, max: 40 });
    const effect = fc.double({ min: 0.01, max: 3, noNaN: true });
    fc.assert(
      fc.property(count, effect, (n, d) => {
        expect(powerFor(0, 1, n)).toBeCloseTo(0.05, 10);
        const found = powerFor(d, 1, n);
        expect(powerFor(-d, 1, n)).toBeCloseTo(found, 10);
        expect(powerFor(d * 1.1, 1, n)).toBeGreaterThanOrEqual(found - 1e-12);
        expect(powerFor(d, 1, n + 1)).toBeGreaterThanOrEqual(found - 1e-12);
        expect(powerFor(7 * d, 7, n)).toBeCloseTo(found, 10);
        expect(found).toBeLessThanOrEqual(1);
      }),
      { numRuns: 40 },
    );
  });

  it('name the difference that a design can detect', () => {
    for (const [n, power] of [
      [2, 0.8],
      [5, 0.8],
      [30, 0.9],
    ] as const) {
      const design = twoSampleDesign(0.013, n);
      const found = unwrap(detectableEffect(design, power));
      expect(unwrap(powerOfT(found, design))).toBeCloseTo(power, 10);
      expect(
        relative(unwrap(detectableEffect(twoSampleDesign(0.13, n), power)), 10 * found),
      ).toBeLessThan(1e-10);
    }
  });

  it('refuse what cannot be planned', () => {
    const range = { error: { code: 'out-of-range' } };
    const design = { standardError: 1, degreesOfFreedom: 5 };
    expect(powerOfT(1, { ...design, standardError: 0 })).toMatchObject(range);
    expect(powerOfT(1, { ...design, degreesOfFreedom: 0.5 })).toMatchObject(range);
    expect(powerOfT(1, { ...design, degreesOfFreedom: Number.NaN })).toMatchObject(range);
    expect(powerOfT(1, design, 1)).toMatchObject(range);
    expect(powerOfT(Number.NaN, design)).toMatchObject({ error: { code: 'not-finite' } });
    expect(detectableEffect(design, 0.05)).toMatchObject(range);
    expect(detectableEffect(design, 1)).toMatchObject(range);
    expect(sampleSizeOfT(0, 1)).toMatchObject(range);
    expect(sampleSizeOfT(1, 0)).toMatchObject(range);
    expect(sampleSizeOfT(1, 1, { power: 0 })).toMatchObject(range);
    expect(sampleSizeOfT(Number.NaN, 1)).toMatchObject({ error: { code: 'not-finite' } });
  });
});
