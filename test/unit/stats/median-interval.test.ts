import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/lib/random.ts';
import { medianInterval } from '../../../src/stats/median-interval.ts';
import { unwrap } from '../../setup/unwrap.ts';

const upTo = (count: number): number[] => Array.from({ length: count }, (_, at) => at + 1);

describe('medianInterval', () => {
  // Ranks as in tables of the sign test (W. J. Conover, Practical Nonparametric Statistics, table A3; computed here from the
  // binomial distribution in exact fractions): level 1 − 2 P(fewer than r of n).
  it.each([
    [6, 0.95, 1, 0.96875],
    [8, 0.95, 1, 0.9921875],
    [9, 0.95, 2, 0.9609375],
    [10, 0.95, 2, 0.978515625],
    [20, 0.95, 6, 0.9586105346679688],
    [8, 0.99, 1, 0.9921875],
    [30, 0.95, 10, 0.9572260547429323],
  ])('of %i values at level %f runs from rank %i', (count, confidence, rank, reached) => {
    const found = unwrap(medianInterval(upTo(count), confidence));
    expect(found.ranks).toEqual([rank, count + 1 - rank]);
    expect([found.low, found.high]).toEqual(found.ranks);
    expect(found.confidence).toBeCloseTo(reached, 12);
  });

  it('is refused below six values, and below what the level needs', () => {
    expect(medianInterval(upTo(5))).toMatchObject({ error: { code: 'too-few-values' } });
    expect(medianInterval(upTo(5), 0.5)).toMatchObject({ error: { code: 'too-few-values' } });
    expect(medianInterval(upTo(7), 0.99)).toMatchObject({
      error: { code: 'too-few-values', message: expect.stringContaining('at least 8') },
    });
    expect(medianInterval(upTo(7), 1)).toMatchObject({ error: { code: 'out-of-range' } });
  });

  it('follows any rising change of scale and ignores the order', () => {
    const values = fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 6, maxLength: 60 });
    fc.assert(
      fc.property(values, (sample) => {
        const found = unwrap(medianInterval(sample));
        const bent = unwrap(medianInterval(sample.map((v) => Math.exp(v / 10)).reverse()));
        expect(bent.low).toBe(Math.exp(found.low / 10));
        expect(bent.high).toBe(Math.exp(found.high / 10));
        expect(found.confidence).toBeGreaterThanOrEqual(0.95);
      }),
    );
  });

  it('covers the median of a skewed distribution at least as often as it says', () => {
    const random = seededRandom(5);
    let covered = 0;
    const trials = 4000;
    for (let trial = 0; trial < trials; trial += 1) {
      const sample = Array.from({ length: 9 }, () => -Math.log((random.next() + 0.5) / 2 ** 32));
      const { low, high } = unwrap(medianInterval(sample));
      if (low <= Math.LN2 && Math.LN2 <= high) covered += 1;
    }
    // 0.9609 by the binomial; three standard errors of the simulation are 0.0092.
    expect(Math.abs(covered / trials - 0.9609)).toBeLessThan(0.0092);
  });
});
