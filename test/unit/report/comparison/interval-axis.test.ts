import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  makeAxis,
  renderInterval,
  renderScale,
} from '../../../../src/report/comparison/interval-axis.ts';

describe('an interval drawn to scale', () => {
  const axis = makeAxis([{ low: 0.5, high: 2 }], 0.02, 41);

  it('has 1 in the middle, and twice as far from it as half', () => {
    const row = renderInterval(axis, { ratio: 1, low: 0.5, high: 2 });
    expect(row).toBe('├───────────────────●───────────────────┤');
    expect(renderScale(axis)).toBe('0.493               1                2.03');
  });

  it('marks the difference that matters, and what lies beyond the axis', () => {
    const fine = makeAxis([{ low: 0.97, high: 1.01 }], 0.02, 41);
    expect(renderInterval(fine, { ratio: null, low: null, high: null }).split('')).toEqual(
      expect.arrayContaining([':', '│']),
    );
    expect(renderInterval(axis, { ratio: 9, low: 0.01, high: 99 })).toMatch(/^◂─+┼─+▸$/);
    expect(renderInterval(axis, { ratio: 1.5, low: 0, high: Number.POSITIVE_INFINITY })).toMatch(
      /^◂.*●.*▸$/,
    );
  });

  it('never leaves its width, and keeps low, ratio and high in order', () => {
    const ratio = fc.double({ min: 1e-3, max: 1e3, noNaN: true });
    const property = fc.property(fc.tuple(ratio, ratio, ratio), (three) => {
      const [low = 1, middle = 1, high = 1] = three.toSorted((one, other) => one - other);
      const drawn = [...renderInterval(axis, { ratio: middle, low, high })];
      expect(drawn.length).toBeLessThanOrEqual(41);
      const marks = drawn.flatMap((mark, at) => ('├◂●▸┤'.includes(mark) ? [at] : []));
      expect(marks).toEqual(marks.toSorted((one, other) => one - other));
      expect(drawn.some((mark) => '●◂▸'.includes(mark))).toBe(true);
    });
    fc.assert(property);
  });
});
