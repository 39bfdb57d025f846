import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { satterthwaite } from '../../../src/stats/satterthwaite.ts';
import { standardDeviation } from '../../../src/stats/standard-deviation.ts';
import { meanDifference } from '../../../src/stats/two-sample-t.ts';
import { needs } from '../../setup/needs.ts';
import { unwrap } from '../../setup/unwrap.ts';

describe('satterthwaite', () => {
  // JCGM 100:2008, example H.1: end gauge, nine contributions.
  const gauge = needs.reference('gum-h1-end-gauge');
  it.skipIf(gauge.missing)('gives the effective degrees of freedom of example H.1', () => {
    const { data, expected, verified_by } = JSON.parse(readFileSync(gauge.path, 'utf8'));
    const full = verified_by.full_precision;
    const terms = full.contrib.map((u: number, at: number) => ({
      value: u ** 2,
      factor: 1,
      degreesOfFreedom: Number(data.nu[at] === 'inf' ? Number.POSITIVE_INFINITY : data.nu[at]),
    }));
    const { value, degreesOfFreedom } = unwrap(satterthwaite(terms));
    expect(Math.round(Math.sqrt(value))).toBe(expected.u_c_nm);
    expect(Math.floor(degreesOfFreedom)).toBe(expected.nu_eff);
    expect(Math.sqrt(value)).toBeCloseTo(full.uc, 10);
    expect(degreesOfFreedom).toBeCloseTo(full.veff, 9);
  });

  // NIST/SEMATECH e-Handbook 2.6.1 and 2.6.3: repeats in days in runs; printed u 0.03875842, df 42 (42.08 unrounded).
  const probe = needs.reference('nist-2.6.1-gauge-study-nested');
  it.skipIf(probe.missing)(
    'gives the degrees of freedom of the gauge study of handbook 2.6',
    () => {
      const { expected, verified_by } = JSON.parse(readFileSync(probe.path, 'utf8'));
      const { s2, s3 } = verified_by.full_precision;
      const { value, degreesOfFreedom } = unwrap(
        satterthwaite([
          { value: s2 ** 2, factor: 5 / 6, degreesOfFreedom: expected.df2 },
          { value: s3 ** 2, factor: 1, degreesOfFreedom: expected.df3 },
          { value: expected.sd_probe ** 2, factor: 1 / 10, degreesOfFreedom: 9 },
        ]),
      );
      // The printed u has an unrounded s of the probe.
      expect(Math.abs(Math.sqrt(value) - expected.u_combined)).toBeLessThan(2e-6);
      expect(Math.round(degreesOfFreedom)).toBe(expected.df_effective);
      expect(Math.abs(degreesOfFreedom - verified_by.df_eff_recomputed)).toBeLessThan(1e-9);
    },
  );

  it("is Welch's rule for two means", () => {
    const [a, b] = [
      [3, 4, 6],
      [5, 7, 8, 19],
    ];
    const found = unwrap(
      satterthwaite(
        [a, b].map((side) => ({
          value: unwrap(standardDeviation(side)) ** 2,
          factor: 1 / side.length,
          degreesOfFreedom: side.length - 1,
        })),
      ),
    );
    const welch = unwrap(meanDifference(a, b));
    expect(Math.sqrt(found.value)).toBeCloseTo(welch.standardError, 12);
    expect(found.degreesOfFreedom).toBeCloseTo(welch.degreesOfFreedom, 12);
  });

  it('says so where nothing is left', () => {
    const term = { value: 1, degreesOfFreedom: 3 };
    expect(satterthwaite([{ ...term, factor: 0 }])).toMatchObject({ error: { code: 'no-spread' } });
    expect(satterthwaite([])).toMatchObject({ error: { code: 'no-spread' } });
    expect(satterthwaite([{ ...term, factor: -1 }])).toMatchObject({
      error: { code: 'out-of-range' },
    });
    expect(satterthwaite([{ ...term, value: Number.NaN, factor: 1 }])).toMatchObject({
      error: { code: 'out-of-range' },
    });
  });
});
