import { describe, expect, it } from 'vitest';
import { oneWayComponents } from '../../../src/stats/one-way-components.ts';
import { precisionOf, sittingMeanVariance } from '../../../src/stats/sitting-precision.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference, relative } from './reference.ts';

// USP <1010>, appendix B, table 2: the variance of a mean for six plans of runs and replicates.
const { data, expected, verified_by } = reference('usp-1010-nested-precision-plan');
const study = unwrap(
  oneWayComponents(data.runs.map(({ replicates }: { replicates: number[] }) => replicates)),
);

describe('sittingMeanVariance', () => {
  it('gives the printed variances of all six plans', () => {
    expect(expected.plans).toHaveLength(6);
    for (const [at, { runs, reps, variance }] of expected.plans.entries()) {
      const found = unwrap(sittingMeanVariance(study, reps)).value / runs;
      // One unit: 0.6256 (two runs of one) is printed as 0.625, half of the rounded 1.251 cut off.
      expect(Math.abs(found - variance)).toBeLessThan(0.001);
      expect(relative(found, verified_by.full_precision.plans[at].variance)).toBeLessThan(1e-11);
    }
  });

  it('has the degrees of freedom of the sittings where the plan is that of the study', () => {
    const { value, degreesOfFreedom } = unwrap(sittingMeanVariance(study, 3));
    expect(value).toBeCloseTo(study.between.value / 3, 12);
    expect(degreesOfFreedom).toBeCloseTo(4, 12);
  });

  it('falls with the repeats, but never below the spread between sittings', () => {
    const values = [1, 2, 3, 10, 100].map((n) => unwrap(sittingMeanVariance(study, n)).value);
    expect(values).toEqual([...values].sort((a, b) => b - a));
    expect(values.at(-1)).toBeGreaterThan(study.betweenVariance);
  });

  it('keeps the spread within where none is seen between', () => {
    const flat = unwrap(
      oneWayComponents([
        [1, 3],
        [1, 3],
        [1, 3],
      ]),
    );
    expect(flat.betweenVariance).toBe(0);
    expect(unwrap(sittingMeanVariance(flat, 4))).toEqual({ value: 0.5, degreesOfFreedom: 3 });
  });

  it('refuses a sitting without repeats and a study without spread', () => {
    expect(sittingMeanVariance(study, 0)).toMatchObject({ error: { code: 'out-of-range' } });
    const constant = unwrap(
      oneWayComponents([
        [4, 4],
        [4, 4],
      ]),
    );
    expect(sittingMeanVariance(constant, 3)).toMatchObject({ error: { code: 'no-spread' } });
  });
});

describe('precisionOf', () => {
  it('gives the standard deviations and the repeatability limit of ISO 5725', () => {
    const { repeatability, betweenSittings, intermediate, repeatabilityLimit } = precisionOf(study);
    const { var_run, var_rep } = verified_by.full_precision;
    expect(repeatability).toBeCloseTo(Math.sqrt(var_rep), 12);
    expect(betweenSittings).toBeCloseTo(Math.sqrt(var_run), 12);
    // One run of one replicate.
    expect(intermediate ** 2).toBeCloseTo(expected.plans[0].variance, 3);
    expect(repeatabilityLimit).toBeCloseTo(2.8 * Math.sqrt(var_rep), 12);
  });
});
