import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type LabelledPoint, placeLabels } from '../../../../src/report/charts/place-labels.ts';
import { textWidth } from '../../../../src/report/charts/text-width.ts';

const space = { width: 1600, height: 800, fontSize: 21, avoid: [] };
const point = fc
  .record({
    x: fc.double({ min: 0, max: 1600, noNaN: true }),
    y: fc.double({ min: 0, max: 800, noNaN: true }),
    half: fc.double({ min: 0, max: 120, noNaN: true }),
    lines: fc.array(fc.string({ minLength: 1, maxLength: 28 }), { minLength: 1, maxLength: 2 }),
  })
  .map(({ x, y, half, lines }): LabelledPoint => ({ x, y, from: y - half, to: y + half, lines }));

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

function boxes(points: readonly LabelledPoint[]): readonly Box[] {
  return placeLabels(points, space).flatMap((label, at) => {
    if (label === null) return [];
    const lines = points[at]?.lines ?? [];
    const wide = Math.max(...lines.map((line) => textWidth(line, space.fontSize)));
    const back = { left: 0, center: 0.5, right: 1 }[label.align];
    const left = label.x - wide * back;
    const top = label.y - space.fontSize / 2;
    const bottom = label.y + space.fontSize * (lines.length - 1) * 1.2 + space.fontSize / 2;
    return [{ left, right: left + wide, top, bottom }];
  });
}

const overlap = (one: Box, other: Box): boolean =>
  Math.min(one.right, other.right) - Math.max(one.left, other.left) > 1e-6 &&
  Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top) > 1e-6;

describe('labels of points', () => {
  it('never touch one another, a point, or an edge', () => {
    fc.assert(
      fc.property(fc.array(point, { maxLength: 40 }), (points) => {
        const found = boxes(points);
        for (const [at, box] of found.entries()) {
          expect(box.left).toBeGreaterThanOrEqual(-1e-6);
          expect(box.right).toBeLessThanOrEqual(1600 + 1e-6);
          expect(box.top).toBeGreaterThanOrEqual(-1e-6);
          expect(box.bottom).toBeLessThanOrEqual(800 + 1e-6);
          for (const other of found.slice(at + 1)) expect(overlap(box, other)).toBe(false);
          for (const { x, y } of points)
            expect(overlap(box, { left: x - 1, right: x + 1, top: y - 1, bottom: y + 1 })).toBe(
              false,
            );
        }
      }),
      { numRuns: 60, seed: 11 },
    );
  });

  it('stand beside their point where there is room, and are left out where there is none', () => {
    const alone = { x: 300, y: 300, from: 290, to: 310, lines: ['bench'] };
    expect(placeLabels([alone], space)).toEqual([
      expect.objectContaining({ align: 'left', isFar: false, y: 300 }),
    ]);
    const wide = { ...alone, lines: ['m'.repeat(200)] };
    expect(placeLabels([wide], space)).toEqual([null]);
    const crowd = Array.from({ length: 120 }, () => alone);
    const placed = placeLabels(crowd, space);
    expect(placed.filter((label) => label === null).length).toBeGreaterThan(50);
    expect(placed[0]).not.toBeNull();
  });
});
