import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/lib/random.ts';
import { hodgesLehmann, hodgesLehmannInterval } from '../../../src/stats/hodges-lehmann.ts';
import { mannWhitney } from '../../../src/stats/mann-whitney.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference } from './reference.ts';

describe('hodgesLehmann', () => {
  // R documentation of wilcox.test; Hollander & Wolfe 1973, table 4.1: 10 against 5 values.
  it('gives the shift of the permeability of membranes with its exact intervals', () => {
    const { data, expected } = reference('hodges-lehmann-wilcoxon-r-doc');
    const { two_x, two_y } = data;
    expect(unwrap(hodgesLehmann(two_x, two_y))).toBeCloseTo(expected.two.hl, 12);
    for (const [confidence, ends] of [
      [0.95, expected.two.ci],
      [0.9, expected.two.ci90],
    ]) {
      const found = unwrap(hodgesLehmannInterval(two_x, two_y, { confidence, least: 5 }));
      expect(found.low).toBeCloseTo(ends[0], 12);
      expect(found.high).toBeCloseTo(ends[1], 12);
      expect(found.confidence).toBeGreaterThanOrEqual(confidence);
    }
  });

  // PlantGrowth (R 4.2.2, exact) and the tied counts of handbook 7.3.5 (median of the 121 differences).
  it('gives the shifts of plants, of runs and of particle counts', () => {
    const { data, expected } = reference('r-plantgrowth-three-groups');
    const { ctrl, trt1, trt2 } = data;
    expect(unwrap(hodgesLehmann(ctrl, trt1))).toBeCloseTo(expected.ctrl_trt1.hl, 12);
    expect(unwrap(hodgesLehmann(ctrl, trt2))).toBeCloseTo(expected.ctrl_trt2.hl, 12);
    const { low, high } = unwrap(hodgesLehmannInterval(ctrl, trt2));
    expect([low, high].map((end) => Number(end.toFixed(12)))).toEqual(
      expected.ctrl_trt2.mann_whitney_exact.ci95,
    );
    const light = reference('r-morley-sessions');
    const { sessions } = light.data;
    expect(unwrap(hodgesLehmann(sessions[1], sessions[5]))).toBe(light.expected.expt1_v_5.hl);
    const counts = reference('nist-7.3.5-mann-whitney');
    expect(unwrap(hodgesLehmann(counts.data.A, counts.data.B))).toBeCloseTo(
      counts.expected.hodges_lehmann_A_minus_B,
      12,
    );
  });

  it('starts at the rank that R 4.2.2 qwilcox names', () => {
    const { data, expected } = reference('distribution-functions');
    for (const [at, size] of data.qwilcox_m_n.entries()) {
      const side = Array.from({ length: size }, (_, place) => place);
      const found = unwrap(hodgesLehmannInterval(side, side, { least: 5 }));
      expect(found.ranks).toEqual([expected.qwilcox[at], size * size + 1 - expected.qwilcox[at]]);
    }
  });

  it('holds the shifts that the exact test does not reject, and no others', () => {
    const random = seededRandom(7);
    const draw = (): number => random.next() / 2 ** 32;
    const a = Array.from({ length: 7 }, draw);
    const b = Array.from({ length: 8 }, draw);
    const { low, high, confidence } = unwrap(hodgesLehmannInterval(a, b));
    const p = (shift: number): number =>
      unwrap(
        mannWhitney(
          a,
          b.map((value) => value + shift),
        ),
      ).p;
    expect(p(low - 1e-9)).toBeCloseTo(1 - confidence, 10);
    expect(p(low + 1e-9)).toBeGreaterThan(0.05);
    expect(p(high - 1e-9)).toBeGreaterThan(0.05);
    expect(p(high + 1e-9)).toBeLessThan(0.05);
  });

  it('follows shift and scale, ignores the order, turns with the sides', () => {
    const side = fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 6, maxLength: 10 });
    fc.assert(
      fc.property(side, side, (a, b) => {
        const shift = unwrap(hodgesLehmann(a, b));
        const { low, high } = unwrap(hodgesLehmannInterval(a, b));
        expect(low).toBeLessThanOrEqual(shift);
        expect(high).toBeGreaterThanOrEqual(shift);
        const moved = a.map((value) => value + 17).reverse();
        expect(unwrap(hodgesLehmann(moved, b))).toBe(shift + 17);
        expect(unwrap(hodgesLehmann(b, a))).toBeCloseTo(-shift, 12);
        const doubled = (side: number[]): number[] => side.map((value) => value * 2);
        expect(unwrap(hodgesLehmannInterval(doubled(a), doubled(b)))).toMatchObject({
          low: 2 * low,
          high: 2 * high,
        });
      }),
    );
  });

  it('has no interval for few values, however low the level, nor for very many', () => {
    const upTo = (count: number): number[] => Array.from({ length: count }, (_, at) => at);
    expect(hodgesLehmannInterval(upTo(5), upTo(30))).toMatchObject({
      error: { code: 'too-few-values' },
    });
    expect(hodgesLehmannInterval(upTo(3), upTo(3), { least: 1 })).toMatchObject({
      error: { code: 'too-few-values' },
    });
    expect(hodgesLehmannInterval(upTo(50), upTo(30))).toMatchObject({
      error: { code: 'out-of-range' },
    });
    expect(hodgesLehmann(upTo(2001), upTo(2000))).toMatchObject({
      error: { code: 'out-of-range' },
    });
    expect(hodgesLehmann([], [1])).toMatchObject({ error: { code: 'too-few-values' } });
  });
});
