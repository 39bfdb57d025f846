import { textWidth } from './text-width.ts';

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export interface LabelledPoint {
  readonly x: number;
  readonly y: number;
  /** Ends of its interval, y of the plot. */
  readonly from: number;
  readonly to: number;
  readonly lines: readonly string[];
}

export interface PlacedLabel {
  readonly x: number;
  /** Middle of the first line. */
  readonly y: number;
  readonly align: 'left' | 'center' | 'right';
  /** Far from its point: a line leads to it. */
  readonly isFar: boolean;
}

export interface LabelSpace {
  readonly width: number;
  readonly height: number;
  readonly fontSize: number;
  /** What labels had better not lie on: points of a line. */
  readonly avoid: readonly { readonly x: number; readonly y: number }[];
}

export const lineStep = 1.2;

/**
 * Where each label goes so that it touches no other, no point, no interval and no edge; null for those that find no place. The first
 * points choose first.
 */
export function placeLabels(
  points: readonly LabelledPoint[],
  space: LabelSpace,
): readonly (PlacedLabel | null)[] {
  const size = space.fontSize * 0.45;
  const taken: Box[] = points.flatMap(({ x, y, from, to }) => [
    { left: x - size, right: x + size, top: y - size, bottom: y + size },
    { left: x - 2, right: x + 2, top: Math.min(from, to), bottom: Math.max(from, to) },
  ]);
  return points.map((point) => {
    const best = candidates(point, space.fontSize)
      .map((candidate) => ({ ...candidate, cost: costOf(candidate, taken, space) }))
      .reduce((one, other) => (other.cost < one.cost ? other : one));
    if (best.cost === Number.POSITIVE_INFINITY) return null;
    taken.push(best.box);
    return best.label;
  });
}

interface Candidate {
  readonly label: PlacedLabel;
  readonly box: Box;
  readonly distance: number;
}

const directions = [
  [1, 0],
  [-1, 0],
  [1, 1],
  [-1, -1],
  [-1, 1],
  [1, -1],
  [0, -1],
  [0, 1],
] as const;
const distances = [0.8, 1.6, 2.6, 3.8, 5];

function candidates({ x, y, lines }: LabelledPoint, fontSize: number): readonly Candidate[] {
  const wide = Math.max(...lines.map((line) => textWidth(line, fontSize)));
  const high = fontSize * (1 + lineStep * (lines.length - 1));
  return distances.flatMap((distance) =>
    directions.map(([right, down]) => {
      const slant = right !== 0 && down !== 0 ? 0.75 : 1;
      const at = x + right * distance * fontSize * slant;
      const middle = y + down * (distance * fontSize * slant + (high - fontSize) / 2);
      const left = right > 0 ? at : right < 0 ? at - wide : at - wide / 2;
      const top = middle - high / 2;
      const align = right > 0 ? 'left' : right < 0 ? 'right' : 'center';
      return {
        label: { x: at, y: top + fontSize / 2, align, isFar: distance > 1 },
        box: { left, right: left + wide, top, bottom: top + high },
        distance,
      };
    }),
  );
}

/** Infinite where it touches anything; else less the nearer it is. */
function costOf({ box, distance }: Candidate, taken: readonly Box[], space: LabelSpace): number {
  const { width, height, avoid } = space;
  const isOut = box.left < 0 || box.right > width || box.top < 0 || box.bottom > height;
  if (isOut || taken.some((other) => overlap(box, other))) return Number.POSITIVE_INFINITY;
  const crossed = avoid.some(
    ({ x, y }) => x > box.left && x < box.right && y > box.top && y < box.bottom,
  );
  return distance + (crossed ? 1.5 : 0);
}

function overlap(one: Box, other: Box): boolean {
  return (
    one.left < other.right &&
    one.right > other.left &&
    one.top < other.bottom &&
    one.bottom > other.top
  );
}
