import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestRepeats } from '../../../src/stats/best-repeats.ts';
import { unwrap } from '../../setup/unwrap.ts';

describe('bestRepeats', () => {
  it('is the number that trying all of them finds', () => {
    const spread = fc.double({ min: 0.1, max: 10, noNaN: true });
    const seconds = fc.double({ min: 1, max: 1000, noNaN: true });
    fc.assert(
      fc.property(spread, spread, seconds, seconds, (within, between, sitting, repeat) => {
        const costs = { sittingSeconds: sitting, repeatSeconds: repeat };
        const found = unwrap(bestRepeats({ within, between }, costs, 200));
        const loss = (n: number): number =>
          (between ** 2 + within ** 2 / n) * (sitting + n * repeat);
        const best = Math.min(...Array.from({ length: 200 }, (_, at) => loss(at + 1)));
        expect(loss(found)).toBeLessThanOrEqual(best * (1 + 1e-12));
      }),
    );
  });

  // By hand: sqrt(900 / 100) · 2 / 1.
  it('is six for a sitting of 900 s, repeats of 100 s and twice the spread within', () => {
    const costs = { sittingSeconds: 900, repeatSeconds: 100 };
    expect(unwrap(bestRepeats({ within: 2, between: 1 }, costs))).toBe(6);
    expect(unwrap(bestRepeats({ within: 0, between: 1 }, costs))).toBe(1);
    expect(unwrap(bestRepeats({ within: 0, between: 0 }, costs))).toBe(1);
    expect(unwrap(bestRepeats({ within: 2, between: 0 }, costs, 40))).toBe(40);
  });

  it('refuses spreads and times that are none', () => {
    const costs = { sittingSeconds: 900, repeatSeconds: 100 };
    const range = { error: { code: 'out-of-range' } };
    expect(bestRepeats({ within: -1, between: 1 }, costs)).toMatchObject(range);
    expect(bestRepeats({ within: Number.NaN, between: 1 }, costs)).toMatchObject(range);
    expect(bestRepeats({ within: 1, between: 1 }, { ...costs, repeatSeconds: 0 })).toMatchObject(
      range,
    );
    expect(
      bestRepeats({ within: 1, between: 1 }, { ...costs, sittingSeconds: Infinity }),
    ).toMatchObject(range);
  });
});
