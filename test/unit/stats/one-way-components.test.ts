import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meanInterval } from '../../../src/stats/mean-interval.ts';
import { oneWayComponents } from '../../../src/stats/one-way-components.ts';
import { needs } from '../../setup/needs.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference, relative } from './reference.ts';

const byBatch = (rows: readonly { Batch: string; Yield: number }[]): number[][] =>
  [...new Set(rows.map(({ Batch }) => Batch))].map((batch) =>
    rows.filter((row) => row.Batch === batch).map((row) => row.Yield),
  );

describe('oneWayComponents', () => {
  // NIST StRD, Analysis of Variance. The last set has 13 constant leading digits: its data, rounded to binary, hold F to about
  // four digits only.
  it.each([
    ['strd-anova-sirstv', 1e-12],
    ['strd-anova-smls01', 1e-13],
    ['strd-anova-smls04', 1e-9],
    ['strd-anova-smls07', 1e-2],
  ])('reach the certified values of %s to %f', (id, tolerance) => {
    const { data, expected } = reference(id);
    const found = unwrap(oneWayComponents(Object.values<number[]>(data.groups)));
    expect(found.between.degreesOfFreedom).toBe(expected.df_between);
    expect(found.within.degreesOfFreedom).toBe(expected.df_within);
    expect(relative(found.between.value, expected.ms_between)).toBeLessThan(tolerance);
    expect(relative(found.within.value, expected.ms_within)).toBeLessThan(tolerance);
    expect(relative(found.f, expected.F)).toBeLessThan(tolerance);
    expect(relative(Math.sqrt(found.withinVariance), expected.residual_sd)).toBeLessThan(tolerance);
    // The exact p of the certified F; tails as thin as these multiply an error of F.
    expect(relative(found.p, expected.p_value_computed_here)).toBeLessThan(100 * tolerance);
  });

  // The other six, up to 18,009 values.
  for (const [id, tolerance] of [
    ['strd-anova-smls02', 1e-12],
    ['strd-anova-smls03', 1e-11],
    ['strd-anova-smls05', 1e-9],
    ['strd-anova-smls06', 1e-9],
    ['strd-anova-smls08', 1e-2],
    ['strd-anova-smls09', 1e-2],
  ] as const) {
    const set = needs.reference(id);
    it.skipIf(set.missing)(`reach the certified F of ${id} to ${tolerance}`, () => {
      const { data, expected } = JSON.parse(readFileSync(set.path, 'utf8'));
      const found = unwrap(oneWayComponents(Object.values<number[]>(data.groups)));
      expect(relative(found.f, expected.F)).toBeLessThan(tolerance);
    });
  }

  // Davies & Goldsmith's dyestuff yields: R 4.2.2; the second set has a negative component.
  it('give the components of the dyestuff batches, and cut a negative one off at zero', () => {
    const { data, expected } = reference('variance-components-dyestuff-pastes');
    const first = unwrap(oneWayComponents(byBatch(data.dyestuff)));
    expect(relative(first.between.value, expected.dyestuff_anova.MSB)).toBeLessThan(1e-12);
    expect(relative(first.within.value, expected.dyestuff_anova.MSE)).toBeLessThan(1e-12);
    expect(relative(first.f, expected.dyestuff_anova.F)).toBeLessThan(1e-12);
    expect(relative(first.p, expected.dyestuff_anova.p)).toBeLessThan(1e-10);
    expect(relative(first.betweenVariance, expected.dyestuff_anova.between)).toBeLessThan(1e-12);
    expect(first.effectiveSize).toBe(5);
    const second = unwrap(oneWayComponents(byBatch(data.dyestuff2)));
    expect(relative(second.rawBetweenVariance, expected.dyestuff2_anova.between)).toBeLessThan(
      1e-9,
    );
    expect(second.betweenVariance).toBe(0);
  });

  // Michelson 1879, five experiments of twenty runs: R 4.2.2.
  it('give the components of the speed of light, and sessions the wider interval', () => {
    const { data, expected } = reference('r-morley-sessions');
    const sessions = Object.values<number[]>(data.sessions);
    const found = unwrap(oneWayComponents(sessions));
    expect(relative(found.f, expected.anova.F)).toBeLessThan(1e-12);
    expect(relative(found.p, expected.anova.p)).toBeLessThan(1e-10);
    expect(relative(found.betweenVariance, expected.vc.between)).toBeLessThan(1e-11);
    expect(relative(found.withinVariance, expected.vc.within)).toBeLessThan(1e-12);
    expect(found.groupMeans).toEqual(expected.session_means);
    const { low, high } = unwrap(meanInterval(found.groupMeans));
    expect(low).toBeCloseTo(expected.ci95_from_session_means[0], 9);
    expect(high).toBeCloseTo(expected.ci95_from_session_means[1], 9);
  });

  // USP <1010>, appendix B: five runs of three; printed to three decimals, F from rounded mean squares.
  it('give the components of a precision study', () => {
    const { data, expected, verified_by } = reference('usp-1010-nested-precision-plan');
    const found = unwrap(
      oneWayComponents(data.runs.map(({ replicates }: { replicates: number[] }) => replicates)),
    );
    expect(found.between.value).toBeCloseTo(expected.MS_between, 3);
    expect(found.within.value).toBeCloseTo(expected.MS_within, 3);
    expect(relative(found.f, expected.F_printed)).toBeLessThan(0.005);
    const full = verified_by.full_precision;
    expect(relative(found.betweenVariance, full.var_run)).toBeLessThan(1e-11);
    expect(relative(found.withinVariance, full.var_rep)).toBeLessThan(1e-11);
    expect(relative(found.p, full.p)).toBeLessThan(1e-9);
  });

  // PlantGrowth, R 4.2.2.
  it('give F and p of three groups of plants', () => {
    const { data, expected } = reference('r-plantgrowth-three-groups');
    const found = unwrap(oneWayComponents([data.ctrl, data.trt1, data.trt2]));
    expect(relative(found.f, expected.anova.F)).toBeLessThan(1e-12);
    expect(relative(found.p, expected.anova.p)).toBeLessThan(1e-10);
  });

  // NIST/SEMATECH e-Handbook 3.2.3.1; its quoted F of 9.55 does not follow from its data, which give 5.206.
  const machines = needs.reference('nist-3.2.3.1-one-way-anova');
  it.skipIf(machines.missing)('give the sums of handbook 3.2.3.1', () => {
    const { data, expected } = JSON.parse(readFileSync(machines.path, 'utf8'));
    const found = unwrap(oneWayComponents(Object.values<number[]>(data.groups)));
    expect(Math.abs(found.between.value * 4 - expected.SS_between)).toBeLessThan(5.01e-7);
    expect(Math.abs(found.within.value * 20 - expected.SS_within)).toBeLessThan(5.01e-7);
    expect(relative(found.f, expected.F_computed)).toBeLessThan(1e-11);
    expect(relative(found.p, expected.p_computed)).toBeLessThan(1e-9);
  });

  it('find the true components on average, with unequal groups too', () => {
    // Expectation of the estimators, by integrating over designs with known means: shift group i by c·i.
    const sizes = [2, 3, 7];
    const shifted = (by: number): number[][] =>
      sizes.map((size, at) =>
        Array.from({ length: size }, (_, i) => by * at + (i - (size - 1) / 2)),
      );
    // Groups of equal means: between mean square zero, so the raw component is −MS_w/n₀.
    const level = unwrap(oneWayComponents(shifted(0)));
    expect(level.rawBetweenVariance).toBeCloseTo(-level.within.value / level.effectiveSize, 12);
    // n₀ = (12 − 62/12)/2.
    expect(level.effectiveSize).toBeCloseTo((12 - 62 / 12) / 2, 12);
    expect(unwrap(oneWayComponents(shifted(3))).withinVariance).toBeCloseTo(
      level.withinVariance,
      12,
    );
  });

  it('follow shift and scale, and ignore the order of groups and of values', () => {
    const group = fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(fc.array(group, { minLength: 2, maxLength: 6 }), (groups) => {
        const found = oneWayComponents(groups);
        fc.pre(found.ok);
        const { within, between } = unwrap(found);
        const moved = groups.map((values) => values.map((v) => 3 * v + 11).reverse()).reverse();
        const other = unwrap(oneWayComponents(moved));
        expect(other.within.value).toBeCloseTo(9 * within.value, 6);
        expect(other.between.value).toBeCloseTo(9 * between.value, 6);
      }),
    );
  });

  it('say so where there is nothing to analyse', () => {
    expect(oneWayComponents([[1, 2]])).toMatchObject({ error: { code: 'too-few-values' } });
    expect(oneWayComponents([[1], [2]])).toMatchObject({ error: { code: 'too-few-values' } });
    expect(oneWayComponents([[1, 2], []])).toMatchObject({ error: { code: 'too-few-values' } });
    expect(oneWayComponents([[1, 2], [Number.NaN]])).toMatchObject({
      error: { code: 'not-finite' },
    });
    expect(
      unwrap(
        oneWayComponents([
          [4, 4],
          [4, 4],
        ]),
      ),
    ).toMatchObject({ f: 0, p: 1 });
    expect(
      unwrap(
        oneWayComponents([
          [4, 4],
          [5, 5],
        ]),
      ),
    ).toMatchObject({ p: 0 });
  });
});
