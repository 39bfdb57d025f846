import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/lib/random.ts';
import { energyChanges } from '../../../src/stats/energy-changes.ts';
import { individualsLimits } from '../../../src/stats/individuals-limits.ts';
import { pelt } from '../../../src/stats/pelt.ts';
import { needs } from '../../setup/needs.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference } from './reference.ts';

// Nile at Aswan, 1871 to 1970: the level fell after 1898, the 28th value (G. W. Cobb, Biometrika 65, 1978; CRAN package strucchange).
const nile = needs.reference('change-point-nile-pettitt-breakpoints');

function withSigma(values: readonly number[], least: number): readonly number[] {
  const { sigma } = unwrap(individualsLimits(values));
  return unwrap(pelt(values, { sigma, least }));
}

function energyPlaces(values: readonly number[], seed: number): readonly number[] {
  const options = { random: seededRandom(seed), least: 5 };
  return unwrap(energyChanges(values, options)).map(({ at }) => at);
}

/** All divisions of a series, each change paid for: what PELT has to reach. */
function cheapest(values: readonly number[], penalty: number, least: number): number {
  const cost = (part: readonly number[]): number => {
    const center = part.reduce((sum, v) => sum + v, 0) / part.length;
    return part.reduce((sum, v) => sum + (v - center) ** 2, 0);
  };
  const best = [-penalty];
  for (let end = 1; end <= values.length; end += 1) {
    const ways = Array.from({ length: Math.max(0, end - least + 1) }, (_, from) => {
      return (best[from] ?? Number.POSITIVE_INFINITY) + cost(values.slice(from, end)) + penalty;
    });
    best.push(Math.min(Number.POSITIVE_INFINITY, ...ways));
  }
  return best.at(-1) ?? NaN;
}

describe('pelt', () => {
  // CRAN package changepoint 2.3, examples of cpt.mean; R 4.2.2.
  it('finds the changes that R finds', () => {
    const { data, expected } = reference('change-point-pelt-mean');
    const { penalty } = data;
    expect(unwrap(pelt(data.x, { sigma: 1, penalty }))).toEqual(expected.changepoints);
    expect(unwrap(pelt(data.x, { sigma: 1 }))).toEqual(expected.changepoints);
    expect(unwrap(pelt(data.one_change, { sigma: 1 }))).toEqual([expected.one_change]);
  });

  it.skipIf(nile.missing)('finds the fall of the Nile after 1898, and no other', () => {
    const { data, expected } = JSON.parse(readFileSync(nile.path, 'utf8'));
    expect(withSigma(data.Nile_1871_1970, 3)).toEqual([expected.break_index_1based_last_before]);
  });

  it('pays the least of all divisions, whatever the series and the fewest values between changes', () => {
    const values = fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 1, maxLength: 24 });
    const least = fc.integer({ min: 1, max: 4 });
    fc.assert(
      fc.property(values, least, fc.integer({ min: 1, max: 80 }), (sample, few, penalty) => {
        fc.pre(sample.length >= few);
        const changes = unwrap(pelt(sample, { sigma: 1, penalty, least: few }));
        const edges = [0, ...changes, sample.length];
        let paid = penalty * changes.length;
        for (const [at, from] of edges.slice(0, -1).entries()) {
          const part = sample.slice(from, edges[at + 1]);
          expect(part.length).toBeGreaterThanOrEqual(few);
          paid += cheapest(part, 1e9, part.length);
        }
        expect(paid).toBeCloseTo(cheapest(sample, penalty, few), 6);
      }),
      { numRuns: 300 },
    );
  });

  it('finds nothing in a single value and refuses a spread of zero', () => {
    expect(unwrap(pelt([4], { sigma: 1 }))).toEqual([]);
    expect(pelt([1, 2], { sigma: 0 })).toMatchObject({ error: { code: 'no-spread' } });
    expect(pelt([], { sigma: 1 })).toMatchObject({ error: { code: 'too-few-values' } });
  });
});

describe('energyChanges', () => {
  it.skipIf(nile.missing)('finds the fall of the Nile after 1898, and no other', () => {
    const { data, expected } = JSON.parse(readFileSync(nile.path, 'utf8'));
    expect(energyPlaces(data.Nile_1871_1970, 1)).toEqual([expected.break_index_1based_last_before]);
  });

  it('finds the changes of the examples of R', () => {
    const { data, expected } = reference('change-point-pelt-mean');
    expect(energyPlaces(data.x, 2)).toEqual(expected.changepoints);
    expect(energyPlaces(data.one_change, 2)).toEqual([expected.one_change]);
  });

  it('takes the largest scaled distance of the definition', () => {
    // Two parts of three: E = 2·mean|x − y| − mean|x − x'| − mean|y − y'|, by hand 2·10 − 4/3 − 4/3; any other division has less.
    const found = unwrap(
      energyChanges([1, 2, 3, 11, 12, 13], {
        ...{ random: seededRandom(3), least: 3 },
        alpha: 0.5,
      }),
    );
    expect(found.map(({ at }) => at)).toEqual([3]);
  });

  it('calls no more than about a twentieth of unchanging series changed', () => {
    const random = seededRandom(11);
    let changed = 0;
    for (let round = 0; round < 200; round += 1) {
      const values = Array.from({ length: 16 }, () => random.next() / 2 ** 32);
      const options = { random, least: 3, permutations: 99 };
      if (unwrap(energyChanges(values, options)).length > 0) changed += 1;
    }
    // 5 %, and three standard errors of 200 rounds.
    expect(changed / 200).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / 200));
    expect(changed).toBeGreaterThan(0);
  });

  it('is the same for the same seed, and says nothing of too few values', () => {
    const values = [1, 2, 1, 2, 9, 8, 9, 8];
    const run = (): unknown => energyChanges(values, { random: seededRandom(5), least: 3 });
    expect(run()).toEqual(run());
    expect(unwrap(energyChanges([1, 2, 3], { random: seededRandom(5), least: 3 }))).toEqual([]);
  });
});
