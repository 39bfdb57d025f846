import type { Scene } from './scene.ts';

/** A bounding volume hierarchy over all primitives of a scene; nodes in depth-first order, the root first. */
export interface BoundingTree {
  /** Lowest corner, then highest corner: 6 numbers a node, padded a little. */
  readonly bounds: Float64Array;
  /** Leaf: how many primitives it holds. Inner node: 0. */
  readonly counts: Int32Array;
  /** Leaf: place of its first primitive in `order`. Inner node: its second child (the first one follows it). */
  readonly links: Int32Array;
  /** Inner node: axis along which its children lie, the lower one first. */
  readonly axes: Uint8Array;
  readonly order: Int32Array;
}

interface Draft {
  readonly boxes: Float64Array;
  readonly order: Int32Array;
  readonly bounds: number[];
  readonly counts: number[];
  readonly links: number[];
  readonly axes: number[];
}

const leafSize = 4;
const binCount = 16;
// Rounding in the box test must not lose a hit that the exact primitive test finds.
const padding = 1e-9;

/** Splits by the surface area heuristic in 16 bins; equal scenes give equal trees on every machine. */
export function buildTree(scene: Scene): BoundingTree {
  const count = scene.materialOf.length;
  const order = Int32Array.from({ length: count }, (_, index) => index);
  const draft: Draft = {
    boxes: boxesOf(scene),
    order,
    bounds: [],
    counts: [],
    links: [],
    axes: [],
  };
  buildNode(draft, 0, count);
  return {
    bounds: Float64Array.from(draft.bounds),
    counts: Int32Array.from(draft.counts),
    links: Int32Array.from(draft.links),
    axes: Uint8Array.from(draft.axes),
    order,
  };
}

/** Six numbers for each primitive: lowest corner, highest corner. */
function boxesOf(scene: Scene): Float64Array {
  const boxes = new Float64Array(6 * scene.materialOf.length);
  for (let index = 0; index < scene.materialOf.length; index += 1)
    for (let axis = 0; axis < 3; axis += 1) {
      const [low, high] = extentOf(scene, index, axis);
      const pad = padding * (1 + Math.max(Math.abs(low), Math.abs(high)));
      boxes[6 * index + axis] = low - pad;
      boxes[6 * index + 3 + axis] = high + pad;
    }
  return boxes;
}

function extentOf(scene: Scene, index: number, axis: number): readonly [number, number] {
  if (index < scene.sphereCount) {
    const centre = scene.spheres[4 * index + axis] ?? 0;
    const radius = scene.spheres[4 * index + 3] ?? 0;
    return [centre - radius, centre + radius];
  }
  const at = 9 * (index - scene.sphereCount) + axis;
  const a = scene.triangles[at] ?? 0;
  const b = a + (scene.triangles[at + 3] ?? 0);
  const c = a + (scene.triangles[at + 6] ?? 0);
  return [Math.min(a, b, c), Math.max(a, b, c)];
}

function buildNode(draft: Draft, from: number, to: number): void {
  const node = draft.counts.length;
  const box = boxAround(draft, from, to);
  draft.bounds.push(...box);
  draft.counts.push(0);
  draft.links.push(0);
  draft.axes.push(0);
  const split = to - from <= leafSize ? null : bestSplit(draft, from, to);
  if (split === null) {
    draft.counts[node] = to - from;
    draft.links[node] = from;
    return;
  }
  const middle = partition(draft, from, to, split);
  draft.axes[node] = split.axis;
  buildNode(draft, from, middle);
  draft.links[node] = draft.counts.length;
  buildNode(draft, middle, to);
}

interface Split {
  readonly axis: number;
  /** Primitives whose centre, doubled, lies below go first. */
  readonly below: number;
}

function bestSplit(draft: Draft, from: number, to: number): Split | null {
  let best: Split | null = null;
  let bestCost = Number.POSITIVE_INFINITY;
  for (let axis = 0; axis < 3; axis += 1) {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let place = from; place < to; place += 1) {
      low = Math.min(low, centreOf(draft, place, axis));
      high = Math.max(high, centreOf(draft, place, axis));
    }
    if (!(high > low)) continue;
    for (let bin = 1; bin < binCount; bin += 1) {
      const split = { axis, below: low + ((high - low) * bin) / binCount };
      const cost = costOf(draft, from, to, split);
      if (cost < bestCost) {
        best = split;
        bestCost = cost;
      }
    }
  }
  return best;
}

function costOf(draft: Draft, from: number, to: number, split: Split): number {
  const low = emptyBox();
  const high = emptyBox();
  let lowCount = 0;
  for (let place = from; place < to; place += 1) {
    const isLow = centreOf(draft, place, split.axis) < split.below;
    if (isLow) lowCount += 1;
    enclose(isLow ? low : high, draft, place);
  }
  const highCount = to - from - lowCount;
  if (lowCount === 0 || highCount === 0) return Number.POSITIVE_INFINITY;
  return lowCount * halfArea(low) + highCount * halfArea(high);
}

// In place; where the order among equals changes it does so in the same way everywhere.
function partition(draft: Draft, from: number, to: number, split: Split): number {
  let middle = from;
  for (let place = from; place < to; place += 1) {
    if (centreOf(draft, place, split.axis) >= split.below) continue;
    const held = draft.order[place] ?? 0;
    draft.order[place] = draft.order[middle] ?? 0;
    draft.order[middle] = held;
    middle += 1;
  }
  return middle;
}

function boxAround(draft: Draft, from: number, to: number): Float64Array {
  const box = emptyBox();
  for (let place = from; place < to; place += 1) enclose(box, draft, place);
  return box;
}

function emptyBox(): Float64Array {
  return new Float64Array(6).fill(Number.POSITIVE_INFINITY, 0, 3).fill(Number.NEGATIVE_INFINITY, 3);
}

function enclose(box: Float64Array, draft: Draft, place: number): void {
  const at = 6 * (draft.order[place] as number);
  for (let axis = 0; axis < 3; axis += 1) {
    const low = draft.boxes[at + axis] as number;
    const high = draft.boxes[at + axis + 3] as number;
    if (low < (box[axis] as number)) box[axis] = low;
    if (high > (box[axis + 3] as number)) box[axis + 3] = high;
  }
}

function centreOf(draft: Draft, place: number, axis: number): number {
  const at = 6 * (draft.order[place] as number) + axis;
  return (draft.boxes[at] as number) + (draft.boxes[at + 3] as number);
}

function halfArea(box: Float64Array): number {
  const width = (box[3] as number) - (box[0] as number);
  const height = (box[4] as number) - (box[1] as number);
  const depth = (box[5] as number) - (box[2] as number);
  return width * height + height * depth + depth * width;
}
