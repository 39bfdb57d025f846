import fc from 'fast-check';
import { expect, it } from 'vitest';
import { thinPoints } from '../../../../src/report/course/thin-points.ts';

const readings = fc
  .array(
    fc.record({
      step: fc.double({ min: 0.01, max: 100, noNaN: true }),
      value: fc.double({ min: -50, max: 120, noNaN: true }),
    }),
    { minLength: 1, maxLength: 600 },
  )
  .map((steps) => {
    let at = 0;
    return steps.map(({ step, value }) => {
      at += step;
      return { atSeconds: at, value };
    });
  });

it('keeps the peaks, the order of time and the number asked for', () => {
  fc.assert(
    fc.property(readings, fc.integer({ min: 1, max: 50 }), (given, most) => {
      const points = thinPoints(given, most);
      const values = given.map(({ value }) => value);
      expect(points.length).toBeLessThanOrEqual(Math.max(most, 1));
      expect(Math.max(...points.map(({ high }) => high))).toBe(Math.max(...values));
      expect(Math.min(...points.map(({ low }) => low))).toBe(Math.min(...values));
      for (const [at, point] of points.entries()) {
        expect(point.atSeconds).toBeGreaterThan(points[at - 1]?.atSeconds ?? 0);
        expect(point.mean).toBeGreaterThanOrEqual(point.low - 1e-9);
        expect(point.mean).toBeLessThanOrEqual(point.high + 1e-9);
      }
    }),
  );
});

it('leaves few readings as they are', () => {
  expect(thinPoints([{ atSeconds: 1, value: 40 }], 400)).toEqual([
    { atSeconds: 1, mean: 40, low: 40, high: 40 },
  ]);
  expect(thinPoints([], 400)).toEqual([]);
});
