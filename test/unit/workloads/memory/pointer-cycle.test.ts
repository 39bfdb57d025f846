import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makePointerCycle, walk } from '../../../../src/workloads/memory/pointer-cycle.ts';

describe('the pointer cycle', () => {
  it('visits each cache line once before it comes back, whatever size and seed', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 3000 }), fc.nat(), (lines, seed) => {
        const chain = makePointerCycle(lines, seed);
        const visited = new Set<number>();
        let at = 0;
        for (let step = 0; step < lines; step += 1) {
          visited.add(at);
          at = walk(chain, at, 1);
        }
        expect(at).toBe(0);
        expect(visited.size).toBe(lines);
        expect([...visited].every((index) => index % 16 === 0 && index < chain.length)).toBe(true);
      }),
      { numRuns: 50 },
    );
  });

  it('walks as many steps as told', () => {
    const chain = makePointerCycle(1000, 1);
    expect(walk(chain, walk(chain, 0, 400), 600)).toBe(0);
    expect(walk(chain, 0, 999)).not.toBe(0);
  });

  it('gives each of the six cycles of four lines equally often', () => {
    const counts = new Map<string, number>();
    for (let seed = 0; seed < 6000; seed += 1) {
      const chain = makePointerCycle(4, seed);
      const key = [1, 2, 3].map((steps) => walk(chain, 0, steps) / 16).join();
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
    expect(counts.size).toBe(6);
    // Chi-square, 5 degrees of freedom: 20.52 is passed with probability 0.001 (handbook table).
    const chiSquare = [...counts.values()].reduce((sum, n) => sum + (n - 1000) ** 2 / 1000, 0);
    expect(chiSquare).toBeLessThan(20.52);
  });

  it('leaves no stride for a prefetcher: few lines are followed by a neighbour', () => {
    const lines = 10_000;
    const chain = makePointerCycle(lines, 1);
    let near = 0;
    for (let line = 0; line < lines; line += 1)
      if (Math.abs((chain[16 * line] ?? 0) / 16 - line) <= 2) near += 1;
    expect(near).toBeLessThan(20);
  });
});
