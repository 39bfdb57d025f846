import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { autocorrelation } from '../../../src/stats/autocorrelation.ts';
import { needs } from '../../setup/needs.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference } from './reference.ts';

describe('autocorrelation', () => {
  // NIST StRD Lew (certified at lag 1) and e-Handbook 1.3.5.12; R 4.2.2 acf at all lags.
  const beam = needs.reference('nist-1.3.5.12-autocorrelation');
  it.skipIf(beam.missing)('gives the certified value of Lew, and 49 further lags', () => {
    const { data, expected } = JSON.parse(readFileSync(beam.path, 'utf8'));
    expect(unwrap(autocorrelation(data.y))).toBeCloseTo(expected.lag1_certified, 14);
    for (let lag = 1; lag <= 50; lag += 1) {
      expect(Math.abs(unwrap(autocorrelation(data.y, lag)) - expected.acf[lag])).toBeLessThan(
        1e-12,
      );
    }
  });

  // NIST StRD univariate sets, certified lag-1 values.
  for (const id of ['strd-univ-lottery', 'strd-univ-mavro', 'strd-univ-pidigits']) {
    const set = needs.reference(id);
    it.skipIf(set.missing)(`gives the certified value of ${id}`, () => {
      const { data, expected } = JSON.parse(readFileSync(set.path, 'utf8'));
      expect(Math.abs(unwrap(autocorrelation(data.y)) - expected.autocorr_lag1)).toBeLessThan(
        1e-11,
      );
    });
  }

  // Michelson's five experiments, R 4.2.2.
  it('gives those of five sessions', () => {
    const { data, expected } = reference('r-morley-sessions');
    for (const [at, session] of Object.values<number[]>(data.sessions).entries()) {
      expect(unwrap(autocorrelation(session))).toBeCloseTo(expected.acf1[at], 12);
    }
  });

  it('does not change with shift, scale or the direction of time', () => {
    const values = fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 3, maxLength: 30 });
    fc.assert(
      fc.property(values, (sample) => {
        fc.pre(new Set(sample).size > 1);
        const found = unwrap(autocorrelation(sample));
        const moved = sample.map((v) => 8 * v - 3).reverse();
        expect(unwrap(autocorrelation(moved))).toBeCloseTo(found, 10);
        expect(Math.abs(found)).toBeLessThanOrEqual(1);
      }),
    );
  });

  it('says so for few or equal values and an impossible lag', () => {
    expect(autocorrelation([1, 2])).toMatchObject({ error: { code: 'too-few-values' } });
    expect(autocorrelation([1, 2, 3, 4], 3)).toMatchObject({ error: { code: 'too-few-values' } });
    expect(autocorrelation([2, 2, 2])).toMatchObject({ error: { code: 'no-spread' } });
    expect(autocorrelation([1, 2, 3], 0)).toMatchObject({ error: { code: 'out-of-range' } });
    expect(autocorrelation([1, 2, 3], 1.5)).toMatchObject({ error: { code: 'out-of-range' } });
  });
});
