import { describe, expect, it } from 'vitest';
import { Random, randomFor } from '../../../../src/workloads/corpus/random.ts';

describe('the random generator', () => {
  it('gives the published sequence of xoshiro128** 1.1', () => {
    // From state 1, 2, 3, 4, "produced with the reference implementation (v1.1)": rand_xoshiro, Xoshiro128StarStar.
    const random = new Random(1, 2, 3, 4);
    const drawn = Array.from({ length: 10 }, () => random.next());
    expect(drawn).toEqual([
      11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597,
      4258142804,
    ]);
  });

  it('draws below a limit, each number about equally often', () => {
    const random = randomFor(1, 2, 3);
    const counts = new Array<number>(10).fill(0);
    for (let draw = 0; draw < 100_000; draw += 1) {
      const value = random.below(10);
      counts[value] = (counts[value] ?? 0) + 1;
    }
    expect(counts).toHaveLength(10);
    // Chi-square, 9 degrees of freedom: 27.88 is passed with probability 0.001 (handbook table).
    const chiSquare = counts.reduce((sum, count) => sum + (count - 10_000) ** 2 / 10_000, 0);
    expect(chiSquare).toBeLessThan(27.88);
  });

  it('tells places apart and repeats itself at the same place', () => {
    const first = (...place: number[]) => randomFor(7, ...place).next();
    expect(first(1, 2)).toBe(first(1, 2));
    const all = [first(1, 2), first(2, 1), first(1), first(1, 2, 0), randomFor(8, 1, 2).next()];
    expect(new Set(all).size).toBe(all.length);
  });
});
