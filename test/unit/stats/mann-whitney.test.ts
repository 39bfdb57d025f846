import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mannWhitney } from '../../../src/stats/mann-whitney.ts';
import { rankSumDistribution } from '../../../src/stats/rank-sum-distribution.ts';
import { tieCubes } from '../../../src/stats/ranks.ts';
import { needs } from '../../setup/needs.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference, relative } from './reference.ts';

describe('mannWhitney', () => {
  // R documentation of wilcox.test; Hollander & Wolfe 1973, table 4.1; without ties.
  it('is exact for the permeability of membranes', () => {
    const { data, expected } = reference('hodges-lehmann-wilcoxon-r-doc');
    const found = unwrap(mannWhitney(data.two_x, data.two_y));
    expect(found).toMatchObject({ u: expected.two.W, method: 'exact', superiority: 0.7 });
    expect(relative(found.p, expected.two.p)).toBeLessThan(1e-12);
  });

  // NIST/SEMATECH e-Handbook 7.3.5, particle counts with ties; R 4.2.2, coin, scipy 1.17.1.
  it('gives both p values of handbook 7.3.5, with its ties', () => {
    const { data, expected } = reference('nist-7.3.5-mann-whitney');
    const normal = unwrap(mannWhitney(data.A, data.B));
    expect(normal).toMatchObject({ u: expected.U_B, method: 'normal' });
    expect(unwrap(mannWhitney(data.B, data.A)).u).toBe(expected.U_A);
    expect(relative(normal.p, expected.p_normal_tie_corrected_continuity)).toBeLessThan(1e-12);
    const exact = unwrap(mannWhitney(data.A, data.B, 'exact'));
    expect(exact.method).toBe('exact');
    expect(relative(exact.p, expected.p_exact_conditional)).toBeLessThan(1e-12);
  });

  // PlantGrowth, ToothGrowth and morley: R 4.2.2.
  it('gives the p values of R for five more pairs', () => {
    const plants = reference('r-plantgrowth-three-groups');
    const light = reference('r-morley-sessions');
    const { sessions } = light.data;
    const pairs = [
      [plants.data.ctrl, plants.data.trt1, plants.expected.ctrl_trt1],
      [plants.data.ctrl, plants.data.trt2, plants.expected.ctrl_trt2],
      [sessions[1], sessions[5], light.expected.expt1_v_5],
      [sessions[1], sessions[4], light.expected.expt1_v_4],
      [sessions[4], sessions[5], light.expected.expt4_v_5],
    ];
    for (const [first, second, { mann_whitney, prob_sup }] of pairs) {
      const found = unwrap(mannWhitney(first, second));
      expect(found.u).toBe(mann_whitney.W);
      expect(relative(found.p, mann_whitney.p)).toBeLessThan(1e-10);
      expect(found.superiority).toBeCloseTo(prob_sup, 12);
    }
  });

  // The same yields as in the equivalence tests: one-sided p of a shift by the margin, printed to four digits.
  const yields = needs.reference('tost-ncss-yield');
  it.skipIf(yields.missing)('gives the rank tests of the yield data', () => {
    const { data, verified_by } = JSON.parse(readFileSync(yields.path, 'utf8'));
    const { p_low, p_high } = verified_by.full_precision.wilcox;
    const moved = (by: number): number[] => data.b.map((value: number) => value + by);
    expect(unwrap(mannWhitney(data.a, moved(data.low))).p / 2).toBeCloseTo(p_low, 10);
    expect(unwrap(mannWhitney(data.a, moved(data.high))).p / 2).toBeCloseTo(p_high, 10);
  });

  it('agrees with counting every way to share out the ranks', () => {
    const side = fc.array(fc.integer({ min: 0, max: 6 }), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(side, side, (a, b) => {
        fc.pre(new Set([...a, ...b]).size > 1);
        const { u, p } = unwrap(mannWhitney(a, b, 'exact'));
        const middle = (a.length * b.length) / 2;
        const others = splits([...a, ...b], a.length).map(([x, y]) =>
          Math.abs(wins(x, y) - middle),
        );
        const away = others.filter((size) => size >= Math.abs(u - middle) - 1e-9).length;
        expect(u).toBe(wins(a, b));
        expect(p).toBeCloseTo(away / others.length, 10);
      }),
    );
  });

  it('depends on the order of values only, and mirrors with the sides', () => {
    const side = fc.array(fc.integer({ min: -20, max: 20 }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(side, side, (a, b) => {
        fc.pre(new Set([...a, ...b]).size > 1);
        const found = unwrap(mannWhitney(a, b));
        const bent = unwrap(mannWhitney(a.map(Math.exp).reverse(), b.map(Math.exp)));
        expect(bent).toEqual(found);
        const mirror = unwrap(mannWhitney(b, a));
        expect(mirror.u).toBe(a.length * b.length - found.u);
        expect(mirror.p).toBeCloseTo(found.p, 12);
      }),
    );
  });

  it('is exact up to 49 values a side', () => {
    const upTo = (count: number, from: number): number[] =>
      Array.from({ length: count }, (_, at) => at * 2 + from);
    expect(unwrap(mannWhitney(upTo(49, 0), upTo(49, 3))).method).toBe('exact');
    expect(unwrap(mannWhitney(upTo(50, 0), upTo(49, 3))).method).toBe('normal');
    expect(mannWhitney(upTo(50, 0), upTo(49, 3), 'exact')).toMatchObject({
      error: { code: 'out-of-range' },
    });
    // The two meet there to three digits.
    const exact = unwrap(mannWhitney(upTo(49, 0), upTo(49, 20)));
    const normal = unwrap(mannWhitney(upTo(49, 0), upTo(49, 20), 'normal'));
    expect(Math.abs(exact.p - normal.p)).toBeLessThan(2e-4);
  });
});

describe('rankSumDistribution', () => {
  // R 4.2.2 pwilcox.
  it("has the distribution function of Mann and Whitney's U", () => {
    const { data, expected } = reference('distribution-functions');
    for (const [at, { q, m, n }] of data.pwilcox.entries()) {
      const chances = rankSumDistribution(
        Array.from({ length: m + n }, (_, rank) => rank),
        m,
      );
      const start = (m * (m - 1)) / 2;
      const below = chances.slice(start, start + q + 1).reduce((sum, chance) => sum + chance, 0);
      expect(relative(below, expected.pwilcox[at])).toBeLessThan(1e-12);
    }
  });

  it('counts ties as Σ(t³ − t)', () => {
    expect(tieCubes([2, 3])).toBe(6 + 24);
    expect(tieCubes([])).toBe(0);
  });
});

function wins(a: readonly number[], b: readonly number[]): number {
  return a
    .flatMap((x) => b.map((y) => (x > y ? 1 : x === y ? 0.5 : 0) as number))
    .reduce((s, v) => s + v, 0);
}

function splits(values: readonly number[], count: number): [number[], number[]][] {
  return Array.from({ length: 2 ** values.length }, (_, mask) => mask)
    .map((mask): [number[], number[]] => [
      values.filter((_, at) => (mask >> at) % 2 === 1),
      values.filter((_, at) => (mask >> at) % 2 === 0),
    ])
    .filter(([first]) => first.length === count);
}
