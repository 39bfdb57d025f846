import { describe, expect, it } from 'vitest';
import { whyUnusual } from '../../../src/api/why-unusual.ts';
import { seededRandom } from '../../../src/lib/random.ts';
import { predictionFactor } from '../../../src/stats/prediction-factor.ts';
import { sampleHandWorkload } from '../../setup/samples.ts';

const [metric] = sampleHandWorkload().metrics;

describe('predictionFactor', () => {
  // Hahn & Meeker, Statistical Intervals (1991), the example of five circuit packs: mean 50.10, s = 1.31, 95 % interval
  // for one further pack 50.10 ± 3.04 · 1.31 = 46.1 to 54.1. Value from memory.
  it('agrees with the worked example of five values', () => {
    expect(predictionFactor(5)).toBeCloseTo(3.04, 2);
  });

  // t(0.975, ν) of NIST TN 1297, table B.1: 12.71, 4.30, 2.26 for ν = 1, 2, 9.
  it.each([
    [2, 12.71 * Math.sqrt(3 / 2)],
    [3, 4.3 * Math.sqrt(4 / 3)],
    [10, 2.26 * Math.sqrt(11 / 10)],
  ])('follows the published quantiles of t for %i values', (n, factor) => {
    expect(predictionFactor(n)).toBeCloseTo(factor, 1);
  });
});

describe('whyUnusual', () => {
  it('says how many standard deviations a figure is away', () => {
    // Mean 4120, standard deviation 10.
    expect(whyUnusual(metric, 4240, [4110, 4120, 4130])).toBe(
      'this is 12 standard deviations away from the earlier ones',
    );
    expect(whyUnusual(metric, 4000, [4110, 4120, 4130])).toBe(
      'this is 12 standard deviations away from the earlier ones',
    );
    expect(whyUnusual(metric, 4180, [4110, 4120, 4130])).toContain('6.0 standard deviations');
    expect(whyUnusual(metric, 41_200, [4110, 4120, 4130])).toContain('more than 1000');
  });

  it('lets near figures pass', () => {
    expect(whyUnusual(metric, 4160, [4110, 4120, 4130])).toBeNull();
  });

  it('has no opinion before there are two figures', () => {
    expect(whyUnusual(metric, 1, [])).toBeNull();
    expect(whyUnusual(metric, 1, [4120])).toBeNull();
  });

  it('names the value that all earlier ones had', () => {
    expect(whyUnusual(metric, 4121, [4120, 4120])).toBe('the earlier ones were all 4120 points');
    expect(whyUnusual(metric, 4120, [4120, 4120])).toBeNull();
    // Equal figures whose mean is rounded.
    expect(whyUnusual(metric, 0.2, [0.1, 0.1, 0.1])).toBe('the earlier ones were all 0.1 points');
  });

  // The share of normal figures asked about must be near 5 % for few and for more earlier ones. 4000 draws: the
  // standard error is 0.35 %.
  it.each([2, 3, 8])('asks about one in twenty good figures after %i earlier ones', (n) => {
    const random = seededRandom(20 + n);
    const uniform = (): number => (random.next() + 0.5) / 2 ** 32;
    const normal = (): number =>
      4120 + 10 * Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    let asked = 0;
    for (let draw = 0; draw < 4000; draw += 1) {
      const earlier = Array.from({ length: n }, normal);
      if (whyUnusual(metric, normal(), earlier) !== null) asked += 1;
    }
    expect(asked / 4000).toBeGreaterThan(0.038);
    expect(asked / 4000).toBeLessThan(0.062);
  });
});
