import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { benjaminiHochberg } from '../../../src/stats/benjamini-hochberg.ts';
import { holm } from '../../../src/stats/holm.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference, relative } from './reference.ts';

function same(found: readonly number[], expected: readonly number[]): void {
  expect(found).toHaveLength(expected.length);
  for (const [at, p] of expected.entries())
    expect(relative(found[at] ?? NaN, p)).toBeLessThan(1e-12);
}

const pValues = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 20 });

describe.each([
  ['holm', holm, 'holm'],
  ['benjaminiHochberg', benjaminiHochberg, 'BH'],
] as const)('%s', (_, adjust, name) => {
  // Benjamini & Hochberg 1995, section 4: 15 p values of a trial; adjusted values by R 4.2.2.
  it('adjusts the p values of the thrombolysis trial', () => {
    const { data, expected } = reference('multiplicity-bh-1995-holm');
    const found = unwrap(adjust(data.p));
    same(found, expected.adjusted[name]);
    expect(found.filter((p) => p <= 0.05)).toHaveLength(expected.rejections_at_05[name]);
  });

  // R documentation of p.adjust: 50 p values, half of them of true differences.
  it('adjusts the example of p.adjust', () => {
    const { data, expected } = reference('multiplicity-r-padjust-doc');
    same(unwrap(adjust(data.p)), expected[name]);
  });

  it('keeps the order of p values, never lowers one, and follows their places', () => {
    fc.assert(
      fc.property(pValues, (values) => {
        const found = unwrap(adjust(values));
        const turned = unwrap(adjust([...values].reverse()));
        expect([...turned].reverse()).toEqual(found);
        for (const [a, p] of values.entries()) {
          expect(found[a]).toBeGreaterThanOrEqual(p);
          expect(found[a]).toBeLessThanOrEqual(1);
          for (const [b, q] of values.entries()) {
            if (p < q) expect(found[a]).toBeLessThanOrEqual(found[b] ?? NaN);
          }
        }
      }),
    );
  });

  it('leaves one p value as it is, takes none, and refuses what is no probability', () => {
    expect(adjust([0.03])).toEqual({ ok: true, value: [0.03] });
    expect(adjust([])).toEqual({ ok: true, value: [] });
    for (const odd of [-0.1, 1.1, Number.NaN]) {
      expect(adjust([0.5, odd])).toMatchObject({ error: { code: 'out-of-range' } });
    }
  });
});

describe('holm', () => {
  it('is never milder than Benjamini and Hochberg', () => {
    fc.assert(
      fc.property(pValues, (values) => {
        const mild = unwrap(benjaminiHochberg(values));
        for (const [at, p] of unwrap(holm(values)).entries()) {
          expect(p).toBeGreaterThanOrEqual((mild[at] ?? NaN) * (1 - 1e-12));
        }
      }),
    );
  });
});
