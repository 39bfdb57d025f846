import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { levene } from '../../../src/stats/levene.ts';
import { needs } from '../../setup/needs.ts';
import { unwrap } from '../../setup/unwrap.ts';

describe('levene', () => {
  // NIST/SEMATECH e-Handbook 1.3.5.10, gear diameters, ten batches of ten: printed, and R 4.2.2 car::leveneTest.
  const gear = needs.reference('nist-gear-anova-bartlett-levene');
  it.skipIf(gear.missing)('gives the printed test of the gear batches', () => {
    const { data, expected, verified_by } = JSON.parse(readFileSync(gear.path, 'utf8'));
    const found = unwrap(levene(Object.values<number[]>(data.batches)));
    expect(found.degreesOfFreedom).toEqual(expected.levene_df);
    expect(Math.abs(found.w - expected.levene_W)).toBeLessThan(0.0000501);
    expect(Math.abs(found.p - expected.levene_p)).toBeLessThan(0.00000501);
    expect(found.w).toBeCloseTo(verified_by.full_precision.lev, 9);
    expect(found.p).toBeCloseTo(verified_by.full_precision.lev_p, 10);
  });

  it('does not change with a shift of each group, with scale or with order', () => {
    const groups = [
      [1, 2, 4, 9],
      [3, 3, 5, 20, 7],
      [1, 8, 2],
    ];
    const found = unwrap(levene(groups));
    const moved = groups.map((group, at) => group.map((v) => 2 * v + 10 * at).reverse()).reverse();
    const other = unwrap(levene(moved));
    expect(other.w).toBeCloseTo(found.w, 12);
    expect(other.p).toBeCloseTo(found.p, 12);
  });

  it('tells one wide group from narrow ones', () => {
    const narrow = [10, 11, 9, 10.5, 9.5, 10, 10.2, 9.8];
    const wide = narrow.map((value) => 10 + 12 * (value - 10));
    expect(unwrap(levene([narrow, wide])).p).toBeLessThan(0.02);
    expect(unwrap(levene([narrow, narrow.map((v) => v + 5)])).p).toBeCloseTo(1, 6);
  });

  it('says so where groups do not spread', () => {
    expect(
      levene([
        [1, 1],
        [2, 2],
      ]),
    ).toMatchObject({ error: { code: 'no-spread' } });
    expect(levene([[1, 2, 3]])).toMatchObject({ error: { code: 'too-few-values' } });
    expect(levene([[1, 2], []])).toMatchObject({ error: { code: 'too-few-values' } });
    expect(
      levene([
        [1, 2],
        [Number.NaN, 1],
      ]),
    ).toMatchObject({ error: { code: 'not-finite' } });
  });
});
