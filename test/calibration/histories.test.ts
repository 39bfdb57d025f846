import { describe, expect, it } from 'vitest';
import { changesFound, delayOf, falseSignals } from './histories.ts';

// A short form of `npm run calibrate`: the same simulations, fewer of them. Seeded, so a failure is a change of the engine.

describe('calibration of histories', () => {
  // The full form has 4.1 to 4.5. 30,000 sittings each: two more for the simulation, since signals of one history go together.
  it.each([8, 12, 20])('baseline of %i: at most 6 signals in 1,000 stable sittings', (baseline) => {
    expect(falseSignals(baseline, 300)).toBeLessThan(6 + 2);
  });

  it('sees a shift of five standard deviations at once, and one of two within ten sittings', () => {
    expect(delayOf(20, 0.01, 200, 0.05).median).toBeLessThanOrEqual(2);
    expect(delayOf(20, 0.01, 200, 0.1).withinTen).toBe(1);
    expect(delayOf(20, 0.01, 200, 0.02).withinTen).toBeGreaterThan(0.8);
    expect(delayOf(8, 0.01, 200, 0.05).median).toBeLessThanOrEqual(4);
  });

  it('calls few series changed that are not, and finds a change of 5 %', () => {
    const still = changesFound(20, 0, 150);
    // 10 % and 5 %, and three standard errors of 150 rounds.
    expect(still.any).toBeLessThan(0.1 + 3 * Math.sqrt((0.1 * 0.9) / 150));
    expect(still.both).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / 150));
    expect(changesFound(20, 0.05, 40).both).toBeGreaterThan(0.9);
  });
});
