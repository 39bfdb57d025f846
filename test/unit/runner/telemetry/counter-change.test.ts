import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { counterChange } from '../../../../src/runner/telemetry/counter-change.ts';

/** A 32-bit counter of 2^-14 J, as powercap shows it. */
const range = 262143.32885;

function points(...values: readonly (readonly [seconds: number, value: number])[]) {
  return values.map(([atSeconds, value]) => ({ atSeconds, value }));
}

describe('counterChange', () => {
  it('is the difference of the ends where nothing starts over', () => {
    expect(counterChange(points([0, 100], [1, 150], [2, 260]), range)).toBe(160);
  });

  it('adds the range where the counter starts over', () => {
    expect(counterChange(points([0, range - 10], [1, 40]), range)).toBeCloseTo(50, 6);
  });

  it('counts several starts over, each between two readings', () => {
    const watts = 250;
    const readings = Array.from({ length: 200 }, (_, index) => {
      const atSeconds = index * 30;
      return { atSeconds, value: (watts * atSeconds) % range };
    });
    expect(counterChange(readings, range)).toBeCloseTo(watts * 199 * 30, 4);
  });

  it('follows any power up to a thousand watts at any even sampling up to a minute', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 999, noNaN: true }),
        fc.double({ min: 1, max: 60, noNaN: true }),
        fc.double({ min: 0, max: range - 1, noNaN: true }),
        (watts, step, start) => {
          const readings = Array.from({ length: 50 }, (_, index) => ({
            atSeconds: index * step,
            value: (start + watts * step * index) % range,
          }));
          expect(counterChange(readings, range)).toBeCloseTo(watts * step * 49, 3);
        },
      ),
    );
  });

  it('does not know after a gap in which the counter could have started over unseen', () => {
    expect(counterChange(points([0, 100], [270, 200]), range)).toBe('gap');
    // A 16 times smaller unit: at high power it starts over in minutes, so 70 s already hide it.
    expect(counterChange(points([0, 100], [70, 200]), 65532.610987)).toBe('gap');
    expect(counterChange(points([0, 100], [55, 200]), 65532.610987)).toBe(100);
  });

  it('takes a fall for a reset where a start over would be more than a processor can use', () => {
    expect(counterChange(points([0, 200000], [1, 10]), range)).toBe('counter-reset');
  });

  it('takes every fall of a counter without a range for a reset', () => {
    expect(counterChange(points([0, 5], [1, 3]), null)).toBe('counter-reset');
  });

  it('needs two readings', () => {
    expect(counterChange(points([0, 5]), null)).toBe('not-sampled');
  });
});
