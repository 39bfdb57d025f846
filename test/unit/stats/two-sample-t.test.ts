import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ratioLimits, testEquivalence } from '../../../src/stats/equivalence.ts';
import {
  type Estimate,
  estimateInterval,
  ratioInterval,
  testEstimate,
} from '../../../src/stats/estimate.ts';
import { pooledVariance } from '../../../src/stats/pooled-variance.ts';
import { differenceWith, logRatio, meanDifference } from '../../../src/stats/two-sample-t.ts';
import { needs } from '../../setup/needs.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference, relative } from './reference.ts';

interface Expected {
  readonly t: number;
  readonly df: number;
  readonly p: number;
  readonly ci95: readonly [number, number];
}

/** Compares to nine digits, p to seven: the tolerances of the reference files. */
function same(estimate: Estimate, { t, df, p, ci95 }: Expected): void {
  const test = testEstimate(estimate);
  expect(relative(test.t, t)).toBeLessThan(1e-9);
  expect(relative(estimate.degreesOfFreedom, df)).toBeLessThan(1e-9);
  expect(relative(test.p, p)).toBeLessThan(1e-9);
  const { low, high } = unwrap(estimateInterval(estimate));
  const scale = Math.max(...ci95.map(Math.abs));
  expect(Math.abs(low - ci95[0])).toBeLessThan(1e-9 * scale);
  expect(Math.abs(high - ci95[1])).toBeLessThan(1e-9 * scale);
}

// R 4.2.2 and scipy 1.17.1 on public data sets: PlantGrowth, ToothGrowth, morley.
function pairs(): [string, number[], number[], ReturnType<typeof reference>][] {
  const plants = reference('r-plantgrowth-three-groups');
  const teeth = reference('r-toothgrowth-factorial');
  const light = reference('r-morley-sessions');
  const lengths = (supp: string, dose?: number): number[] =>
    teeth.data.rows
      .filter(
        (row: { supp: string; dose: number }) =>
          row.supp === supp && [undefined, row.dose].includes(dose),
      )
      .map((row: { len: number }) => row.len);
  const { sessions } = light.data;
  return [
    ['ctrl to trt1', plants.data.ctrl, plants.data.trt1, plants.expected.ctrl_trt1],
    ['ctrl to trt2', plants.data.ctrl, plants.data.trt2, plants.expected.ctrl_trt2],
    ['OJ to VC', lengths('OJ'), lengths('VC'), teeth.expected.overall],
    ['OJ to VC at 0.5', lengths('OJ', 0.5), lengths('VC', 0.5), teeth.expected.dose05],
    ['OJ to VC at 2', lengths('OJ', 2), lengths('VC', 2), teeth.expected.dose2],
    ['session 1 to 5', sessions[1], sessions[5], light.expected.expt1_v_5],
    ['session 1 to 4', sessions[1], sessions[4], light.expected.expt1_v_4],
    ['session 4 to 5', sessions[4], sessions[5], light.expected.expt4_v_5],
  ];
}

describe('the t tests of two samples', () => {
  it.each(pairs())('give the values of R for %s', (_, first, second, expected) => {
    const welch = unwrap(meanDifference(first, second));
    same(welch, expected.welch);
    expect(relative(welch.standardError, expected.welch.se)).toBeLessThan(1e-12);
    same(unwrap(meanDifference(first, second, 'pooled')), expected.pooled);
    const logs = unwrap(logRatio(first, second));
    same(logs, expected.log_welch);
    expect(Math.exp(logs.value)).toBeCloseTo(expected.log_welch.gm_ratio, 12);
    const { low, high } = unwrap(ratioInterval(logs));
    expect(low).toBeCloseTo(expected.log_welch.gm_ratio_ci95[0], 9);
    expect(high).toBeCloseTo(expected.log_welch.gm_ratio_ci95[1], 9);
  });

  it.each(pairs())('and two one-sided tests those for %s', (_, first, second, expected) => {
    const { margin, limits, p_low, p_high, gm_ratio_ci90 } = expected.tost_log;
    const within = unwrap(ratioLimits(margin));
    expect(Math.exp(within.low)).toBeCloseTo(limits[0], 12);
    expect(Math.exp(within.high)).toBeCloseTo(limits[1], 12);
    const logs = unwrap(logRatio(first, second));
    const test = unwrap(testEquivalence(logs, within));
    expect(relative(test.lowerP, p_low)).toBeLessThan(1e-9);
    expect(relative(test.upperP, p_high)).toBeLessThan(1e-9);
    expect(test.p).toBe(Math.max(test.lowerP, test.upperP));
    expect(unwrap(ratioInterval(logs, 0.9)).low).toBeCloseTo(gm_ratio_ci90[0], 9);
  });

  // Session means with 4 against 3 sessions, R 4.2.2 and scipy 1.17.1.
  it('hold for few and unequal numbers of sittings', () => {
    const { data, expected } = reference('welch-unequal-session-counts');
    same(unwrap(meanDifference(data.x, data.y)), { ...expected, ci95: expected.ci });
    const logs = unwrap(logRatio(data.x, data.y));
    expect(relative(logs.degreesOfFreedom, expected.log.df)).toBeLessThan(1e-9);
    expect(unwrap(ratioInterval(logs)).low).toBeCloseTo(expected.log.ci[0], 9);
    expect(unwrap(ratioInterval(logs)).high).toBeCloseTo(expected.log.ci[1], 9);
  });

  // R documentation of t.test: Student's sleep data, 1908.
  it('give the values of the sleep data', () => {
    const { data, expected } = reference('r-sleep-paired-vs-welch');
    same(unwrap(meanDifference(data.a, data.b)), expected.welch);
    const pooled = unwrap(meanDifference(data.a, data.b, 'pooled'));
    expect(pooled.degreesOfFreedom).toBe(expected.pooled.df);
    expect(relative(testEstimate(pooled).p, expected.pooled.p)).toBeLessThan(1e-9);
  });

  // NIST/SEMATECH e-Handbook 1.3.5.3, car mileage; printed values, and p down to 5e-30.
  const cars = needs.reference('nist-1.3.5.3-two-sample-t');
  it.skipIf(cars.missing)('give the printed values of handbook 1.3.5.3', () => {
    const { data, expected, verified_by } = JSON.parse(readFileSync(cars.path, 'utf8'));
    const pooled = unwrap(meanDifference(data.us, data.japan, 'pooled'));
    expect(testEstimate(pooled).t).toBeCloseTo(expected.t, 5);
    const { low, high } = unwrap(estimateInterval(pooled));
    expect(low).toBeCloseTo(expected.ci95_diff[0], 6);
    expect(high).toBeCloseTo(expected.ci95_diff[1], 6);
    const full = verified_by.full_precision;
    same(pooled, { ...full, df: 326 });
    same(unwrap(meanDifference(data.us, data.japan)), {
      t: full.welch_t,
      df: full.welch_df,
      p: full.welch_p,
      ci95: full.welch_ci95,
    });
  });

  // NIST/SEMATECH e-Handbook 1.3.5.9 data; t tests computed by R.
  const ceramics = needs.reference('nist-1.3.5.9-f-test-variances');
  it.skipIf(ceramics.missing)('give the values of the ceramic strength batches', () => {
    const { data, verified_by } = JSON.parse(readFileSync(ceramics.path, 'utf8'));
    const { welch, pooled } = verified_by.full_precision;
    same(unwrap(meanDifference(data.batch1, data.batch2)), { ...welch, ci95: welch.ci });
    same(unwrap(meanDifference(data.batch1, data.batch2, 'pooled')), {
      ...pooled,
      ci95: pooled.ci,
    });
  });

  // A worked example of two one-sided tests within ±110 (yield data); printed to five digits.
  const yields = needs.reference('tost-ncss-yield');
  it.skipIf(yields.missing)('give the printed equivalence tests of the yield data', () => {
    const { data, expected, verified_by } = JSON.parse(readFileSync(yields.path, 'utf8'));
    for (const kind of ['pooled', 'welch'] as const) {
      const estimate = unwrap(meanDifference(data.a, data.b, kind));
      const { lowerP, upperP, p } = unwrap(
        testEquivalence(estimate, { low: data.low, high: data.high }),
      );
      expect(lowerP).toBeCloseTo(expected[kind].p_lower, 5);
      expect(upperP).toBeCloseTo(expected[kind].p_upper, 5);
      const full = verified_by.full_precision[kind];
      expect(relative(lowerP, full.p_low)).toBeLessThan(1e-9);
      expect(relative(upperP, full.p_high)).toBeLessThan(1e-9);
      // Not equivalent at 2.5 %, equivalent at 5 %.
      expect(p > 0.025 && p < 0.05).toBe(true);
    }
  });
});

describe('a difference of means', () => {
  const side = fc.array(fc.double({ min: 1, max: 100, noNaN: true }), {
    minLength: 2,
    maxLength: 12,
  });

  it('turns its sign with the sides, and follows shift and scale', () => {
    fc.assert(
      fc.property(side, side, fc.constantFrom('welch', 'pooled'), (a, b, spread) => {
        const found = meanDifference(a, b, spread);
        fc.pre(found.ok);
        const { value, standardError, degreesOfFreedom } = unwrap(found);
        // Below this the spread is rounding.
        fc.pre(standardError > 1e-6);
        const turned = unwrap(meanDifference(b, [...a].reverse(), spread));
        expect(turned.value).toBeCloseTo(-value, 9);
        expect(relative(turned.standardError, standardError)).toBeLessThan(1e-6);
        const move = (v: number): number => 3 * v - 7;
        const moved = unwrap(meanDifference(a.map(move), b.map(move), spread));
        expect(moved.value).toBeCloseTo(3 * value, 8);
        expect(relative(moved.standardError, 3 * standardError)).toBeLessThan(1e-6);
        expect(relative(moved.degreesOfFreedom, degreesOfFreedom)).toBeLessThan(1e-5);
        expect(degreesOfFreedom).toBeLessThanOrEqual((a.length + b.length - 2) * (1 + 1e-9));
        expect(degreesOfFreedom).toBeGreaterThanOrEqual(
          (Math.min(a.length, b.length) - 1) * (1 - 1e-9),
        );
      }),
    );
  });

  it('is a ratio that does not depend on the unit', () => {
    const [a, b] = [
      [10, 11, 12],
      [9, 9.5, 10],
    ];
    const seconds = unwrap(logRatio(a, b));
    const milliseconds = unwrap(
      logRatio(
        a.map((v) => v * 1000),
        b.map((v) => v * 1000),
      ),
    );
    expect(milliseconds.value).toBeCloseTo(seconds.value, 12);
    expect(milliseconds.standardError).toBeCloseTo(seconds.standardError, 12);
  });

  it('has an interval that excludes a value exactly where the test rejects it', () => {
    fc.assert(
      fc.property(side, side, fc.double({ min: -20, max: 20, noNaN: true }), (a, b, value) => {
        const found = meanDifference(a, b);
        fc.pre(found.ok);
        const estimate = unwrap(found);
        const { low, high } = unwrap(estimateInterval(estimate));
        const { p } = testEstimate(estimate, value);
        fc.pre(Math.abs(p - 0.05) > 1e-9);
        expect(value < low || value > high).toBe(p < 0.05);
      }),
    );
  });

  it('is equivalent exactly where the 90 % interval lies within the limits', () => {
    const limit = fc.double({ min: 0.1, max: 50, noNaN: true });
    fc.assert(
      fc.property(side, side, limit, (a, b, half) => {
        const found = meanDifference(a, b);
        fc.pre(found.ok);
        const estimate = unwrap(found);
        const { low, high } = unwrap(estimateInterval(estimate, 0.9));
        const { p } = unwrap(testEquivalence(estimate, { low: -half, high: half }));
        fc.pre(Math.abs(p - 0.05) > 1e-9);
        expect(low > -half && high < half).toBe(p < 0.05);
      }),
    );
  });

  // For two values a side of one spread: t(0.975, 1) = tan(0.475 π) = 12.7062.
  it('needs thirteen times its error with one degree of freedom', () => {
    const estimate: Estimate = { value: 0, standardError: 1, degreesOfFreedom: 1 };
    const { high } = unwrap(estimateInterval(estimate));
    expect(high).toBeCloseTo(Math.tan(0.475 * Math.PI), 10);
    expect(testEstimate({ ...estimate, value: 1 }).p).toBeCloseTo(0.5, 12);
  });

  it('has no error when the values do not differ', () => {
    for (const spread of ['welch', 'pooled'] as const) {
      expect(meanDifference([1, 1], [2, 2], spread)).toMatchObject({
        error: { code: 'no-spread' },
      });
      expect(meanDifference([1], [2, 3], spread)).toMatchObject({
        error: { code: 'too-few-values' },
      });
    }
    expect(logRatio([1, -1], [1, 2])).toMatchObject({ error: { code: 'not-positive' } });
  });

  it('does not lose a spread that is tiny beside the values, nor one whose square is zero', () => {
    const a = [1e9 + 1, 1e9 + 2, 1e9 + 3];
    const b = [1e9 + 2, 1e9 + 3, 1e9 + 4];
    expect(unwrap(meanDifference(a, b)).degreesOfFreedom).toBeCloseTo(4, 9);
    const tiny = unwrap(meanDifference([1e-200, 2e-200, 3e-200], [2e-200, 3e-200, 4e-200]));
    expect(tiny.degreesOfFreedom).toBeCloseTo(4, 9);
  });
});

describe('a difference with a variance from elsewhere', () => {
  it('is the pooled t test where that variance is of the two sides', () => {
    const [a, b] = [
      [3, 4, 6],
      [5, 7, 8, 9],
    ];
    const variance = unwrap(pooledVariance([a, b]));
    expect(unwrap(differenceWith(variance, a, b))).toEqual(unwrap(meanDifference(a, b, 'pooled')));
  });

  it('compares single values, with the degrees of freedom of that variance', () => {
    const found = unwrap(differenceWith({ value: 2, degreesOfFreedom: 7.5 }, [10], [8]));
    expect(found).toEqual({ value: 2, standardError: 2, degreesOfFreedom: 7.5 });
    expect(differenceWith({ value: 0, degreesOfFreedom: 7 }, [10], [8])).toMatchObject({
      error: { code: 'no-spread' },
    });
  });

  it('pools groups by their degrees of freedom and skips single values', () => {
    // Squares about the means: 2 of one, 8 of one: (2 + 8) / 2.
    const { value, degreesOfFreedom } = unwrap(pooledVariance([[1, 3], [0, 4], [9]]));
    expect(value).toBeCloseTo(5, 12);
    expect(degreesOfFreedom).toBe(2);
    expect(pooledVariance([[1], [2]])).toMatchObject({ error: { code: 'too-few-values' } });
    expect(pooledVariance([[1, Number.NaN]])).toMatchObject({ error: { code: 'not-finite' } });
  });
});

describe('limits of equivalence', () => {
  it('are refused out of order, infinite or not above zero', () => {
    const estimate: Estimate = { value: 0, standardError: 1, degreesOfFreedom: 5 };
    for (const limits of [
      { low: 1, high: -1 },
      { low: 0, high: 0 },
      { low: Number.NEGATIVE_INFINITY, high: 1 },
    ]) {
      expect(testEquivalence(estimate, limits)).toMatchObject({ error: { code: 'out-of-range' } });
    }
    expect(ratioLimits(0)).toMatchObject({ error: { code: 'out-of-range' } });
    expect(ratioLimits(Number.NaN)).toMatchObject({ error: { code: 'out-of-range' } });
  });
});
