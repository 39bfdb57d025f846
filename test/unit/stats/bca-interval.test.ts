import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/lib/random.ts';
import { bcaInterval, type Samples } from '../../../src/stats/bca-interval.ts';
import { mean } from '../../../src/stats/mean.ts';
import { normalQuantile } from '../../../src/stats/normal.ts';
import { quantile } from '../../../src/stats/quantile.ts';
import { unwrap } from '../../setup/unwrap.ts';

// Invented, skewed.
const first = [
  1.2, 3.4, 2.2, 5.9, 1.1, 0.7, 2.8, 9.3, 4.1, 3.3, 2.6, 1.9, 6.2, 0.9, 3.8, 2.1, 4.7, 7.5, 1.6,
  2.4,
];
const second = [
  2.1, 1.7, 3.9, 0.8, 2.2, 1.3, 5.1, 2.9, 1.4, 3.6, 0.6, 2.5, 1.8, 4.4, 1.1, 2.7, 3.2, 0.9, 1.5, 2,
  6, 2.3,
];
const meanOf = ([sample]: Samples): number => unwrap(mean(sample ?? []));
// Divisor n, so that it is biased.
const spreadOf = (samples: Samples): number =>
  Math.sqrt(
    (samples[0] ?? []).reduce((sum, v) => sum + (v - meanOf(samples)) ** 2, 0) /
      (samples[0]?.length ?? 1),
  );
const ratioOf = ([a, b]: Samples): number => unwrap(mean(a ?? [])) / unwrap(mean(b ?? []));

describe('bcaInterval', () => {
  // scipy 1.17.1 stats.bootstrap(method='BCa') with one to two million redrawn data sets.
  it.each([
    ['of a mean', [first], meanOf, 2.545, 4.575],
    ['of a biased spread', [first], spreadOf, 1.6135365, 3.1980128],
    ['of a ratio of two means', [first, second], ratioOf, 0.9442771, 2.0186296],
  ] as const)('%s is that of scipy but for the chance of drawing', (_, samples, of, low, high) => {
    const found = unwrap(bcaInterval(samples, of, { seed: 11, resamples: 40_000 }));
    expect(Math.abs(found.low - low)).toBeLessThan(0.025 * (high - low));
    expect(Math.abs(found.high - high)).toBeLessThan(0.025 * (high - low));
  });

  it('is the same for the same seed and another for another', () => {
    const once = bcaInterval([first], meanOf, { seed: 1 });
    expect(bcaInterval([first], meanOf, { seed: 1 })).toEqual(once);
    expect(bcaInterval([first], meanOf, { seed: 2 })).not.toEqual(once);
  });

  it('follows shift and scale exactly, and any rising change of the statistic', () => {
    const options = { seed: 3, resamples: 1999 };
    const found = unwrap(bcaInterval([first], meanOf, options));
    const moved = unwrap(bcaInterval([first.map((v) => 4 * v + 1)], meanOf, options));
    expect(moved.low).toBeCloseTo(4 * found.low + 1, 9);
    expect(moved.high).toBeCloseTo(4 * found.high + 1, 9);
    // But for the acceleration, which is taken at first order.
    const logs = unwrap(bcaInterval([first], (s) => Math.log(meanOf(s)), options));
    expect(Math.exp(logs.low)).toBeCloseTo(found.low, 1);
    expect(Math.exp(logs.high)).toBeCloseTo(found.high, 1);
  });

  it('is wider at a higher level', () => {
    const at = (confidence: number) =>
      unwrap(bcaInterval([first], meanOf, { seed: 4, confidence, resamples: 1999 }));
    expect(at(0.99).low).toBeLessThan(at(0.9).low);
    expect(at(0.99).high).toBeGreaterThan(at(0.9).high);
  });

  it('covers the mean of 20 normal values about as often as its description says', () => {
    const random = seededRandom(6);
    let covered = 0;
    const trials = 400;
    for (let trial = 0; trial < trials; trial += 1) {
      const sample = Array.from({ length: 20 }, () =>
        normalQuantile((random.next() + 0.5) / 2 ** 32),
      );
      const { low, high } = unwrap(
        bcaInterval([sample], ([s]) => (s ?? []).reduce((a, b) => a + b, 0) / 20, {
          seed: trial,
          resamples: 999,
        }),
      );
      if (low <= 0 && 0 <= high) covered += 1;
    }
    // 93 %, three standard errors of the simulation are 3.9 %.
    expect(covered / trials).toBeGreaterThan(0.89);
    expect(covered / trials).toBeLessThan(0.97);
  });

  it('is refused below 20 values a sample, without samples and for broken options', () => {
    const few = { error: { code: 'too-few-values' } };
    expect(bcaInterval([first.slice(1)], meanOf, { seed: 1 })).toMatchObject(few);
    expect(bcaInterval([first, [1, 2]], ratioOf, { seed: 1 })).toMatchObject(few);
    expect(bcaInterval([], meanOf, { seed: 1 })).toMatchObject(few);
    const range = { error: { code: 'out-of-range' } };
    expect(bcaInterval([first], meanOf, { seed: 1, confidence: 1 })).toMatchObject(range);
    expect(bcaInterval([first], meanOf, { seed: 1, resamples: 10 })).toMatchObject(range);
    expect(bcaInterval([first.with(3, Number.NaN)], meanOf, { seed: 1 })).toMatchObject({
      error: { code: 'not-finite' },
    });
  });

  it('says so where the statistic does not vary, is not finite, or lies outside of its own', () => {
    const equal = new Array(20).fill(3);
    expect(bcaInterval([equal], meanOf, { seed: 1 })).toMatchObject({
      error: { code: 'no-spread' },
    });
    const broken = (samples: Samples): number => Math.log(-meanOf(samples));
    expect(bcaInterval([first], broken, { seed: 1 })).toMatchObject({
      error: { code: 'not-finite' },
    });
    // The number of different values falls with every redrawing.
    const kinds = ([sample]: Samples): number => new Set(sample).size;
    expect(bcaInterval([first], kinds, { seed: 1 })).toMatchObject({
      error: { code: 'out-of-range' },
    });
    const top = ([sample]: Samples): number => unwrap(quantile(sample ?? [], 0.9));
    expect(bcaInterval([first], top, { seed: 1 }).ok).toBe(true);
  });
});
