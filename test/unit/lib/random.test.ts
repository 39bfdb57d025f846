import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  drawBelow,
  type Random,
  seededRandom,
  shuffled,
  splitMix64,
  xoshiro128,
} from '../../../src/lib/random.ts';

function draws(random: Random, count: number): number[] {
  return Array.from({ length: count }, () => random.next());
}

describe('xoshiro128**', () => {
  // Source: values produced with the authors' reference implementation (v1.1), as published in the tests of
  // github.com/rust-random/rngs, rand_xoshiro/src/xoshiro128starstar.rs.
  it('gives the published sequence for the state 1, 2, 3, 4', () => {
    expect(draws(xoshiro128([1, 2, 3, 4]), 10)).toEqual([
      11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597,
      4258142804,
    ]);
  });

  it('refuses the state of zeros, from which it would never move', () => {
    expect(() => xoshiro128([0, 0, 0, 0])).toThrow('internal error');
  });
});

describe('SplitMix64', () => {
  // Source: as above, rand_xoshiro/src/splitmix64.rs: values of the reference implementation splitmix64.c.
  it('gives the published sequence for the seed 1477776061723855037', () => {
    const draw = splitMix64(1477776061723855037n);
    expect(Array.from({ length: 6 }, draw)).toEqual([
      1985237415132408290n,
      2979275885539914483n,
      13511426838097143398n,
      8488337342461049707n,
      15141737807933549159n,
      17093170987380407015n,
    ]);
  });
});

describe('seededRandom', () => {
  it('fills the state with two draws of SplitMix64, low word first', () => {
    const draw = splitMix64(20n);
    const [first, second] = [draw(), draw()];
    const low = (word: bigint) => Number(BigInt.asUintN(32, word));
    const state = [low(first), low(first >> 32n), low(second), low(second >> 32n)] as const;
    expect(draws(seededRandom(20), 20)).toEqual(draws(xoshiro128(state), 20));
  });

  it('gives the same draws for a seed and other draws for its neighbour', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2 ** 32 - 2 }), (seed) => {
        expect(draws(seededRandom(seed), 8)).toEqual(draws(seededRandom(seed), 8));
        expect(draws(seededRandom(seed), 8)).not.toEqual(draws(seededRandom(seed + 1), 8));
      }),
    );
  });

  it.each([-1, 0.5, Number.NaN, 2 ** 53])('refuses %s as a seed', (seed) => {
    expect(() => seededRandom(seed)).toThrow('internal error');
  });
});

describe('drawBelow', () => {
  it('throws away draws above the largest multiple of the count', () => {
    const given = [2 ** 32 - 1, 2 ** 32 - 2, 7];
    const random = { next: () => given.shift() ?? 0 };
    // 2^32 = 3 x 1431655765 + 1: only the very last value is beyond the last whole multiple of 3.
    expect(drawBelow(random, 3)).toBe((2 ** 32 - 2) % 3);
    expect(given).toEqual([7]);
  });

  it('stays below the count', () => {
    fc.assert(
      fc.property(fc.nat(), fc.integer({ min: 1, max: 2 ** 32 }), (seed, count) => {
        const drawn = drawBelow(seededRandom(seed), count);
        expect(Number.isInteger(drawn) && drawn >= 0 && drawn < count).toBe(true);
      }),
    );
  });
});

describe('shuffled', () => {
  it('keeps every item once and leaves the given list alone', () => {
    fc.assert(
      fc.property(fc.array(fc.integer()), fc.nat(), (items, seed) => {
        const given = Object.freeze([...items]);
        const result = shuffled(given, seededRandom(seed));
        expect([...result].sort((a, b) => a - b)).toEqual([...items].sort((a, b) => a - b));
      }),
    );
  });

  // With 24,000 shuffles each order of four is expected 1,000 times; chi-squared with 23 degrees of freedom stays
  // below 49.728 with probability 0.999 (scipy.stats.chi2.ppf(0.999, 23)). The seed is fixed.
  it('favours no order of four items', () => {
    const random = seededRandom(1);
    const counts = new Map<string, number>();
    for (let i = 0; i < 24_000; i += 1) {
      const order = shuffled('abcd'.split(''), random).join('');
      counts.set(order, (counts.get(order) ?? 0) + 1);
    }
    expect(counts.size).toBe(24);
    const chiSquared = [...counts.values()].reduce((sum, n) => sum + (n - 1000) ** 2 / 1000, 0);
    expect(chiSquared).toBeLessThan(49.728);
  });
});
