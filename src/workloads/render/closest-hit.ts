import type { BoundingTree } from './bounding-tree.ts';
import type { Scene } from './scene.ts';

/** Where a ray met something; overwritten by each search. */
export interface Hit {
  /** Along the ray, in lengths of its direction. */
  distance: number;
  /** Primitive number, or -1 for none. */
  primitive: number;
  /** Barycentric coordinates along a triangle's two edges. */
  u: number;
  v: number;
}

/** Nearer than this is the surface that the ray leaves. */
const nearest = 1e-6;

/** From a point (o) in a direction (d). */
export interface Ray {
  ox: number;
  oy: number;
  oz: number;
  dx: number;
  dy: number;
  dz: number;
}

const stack: Int32Array = new Int32Array(256);

/** Finds the nearest primitive along a ray through the tree. */
export function closestHit(scene: Scene, tree: BoundingTree, ray: Ray, hit: Hit): void {
  hit.distance = Number.POSITIVE_INFINITY;
  hit.primitive = -1;
  const ix = 1 / ray.dx;
  const iy = 1 / ray.dy;
  const iz = 1 / ray.dz;
  let depth = 0;
  let node = 0;
  for (;;) {
    if (meetsBox(tree.bounds, 6 * node, ray, ix, iy, iz, hit.distance)) {
      const count = tree.counts[node] as number;
      const link = tree.links[node] as number;
      if (count === 0) {
        // The nearer child first, so that the farther one is often cut off.
        const axis = tree.axes[node] as number;
        const along = axis === 0 ? ix : axis === 1 ? iy : iz;
        stack[depth] = along < 0 ? node + 1 : link;
        depth += 1;
        node = along < 0 ? link : node + 1;
        continue;
      }
      for (let place = link; place < link + count; place += 1)
        meetPrimitive(scene, tree.order[place] as number, ray, hit);
    }
    if (depth === 0) return;
    depth -= 1;
    node = stack[depth] as number;
  }
}

/** Takes primitive `index` into the hit if it lies nearer. */
export function meetPrimitive(scene: Scene, index: number, ray: Ray, hit: Hit): void {
  if (index < scene.sphereCount) meetSphere(scene, index, ray, hit);
  else meetTriangle(scene, index, ray, hit);
}

// Slabs. A direction along a face gives infinities and, on the face itself, NaN: comparisons with it are false,
// which leaves the slab out and errs towards a visit.
function meetsBox(
  bounds: Float64Array,
  at: number,
  ray: Ray,
  ix: number,
  iy: number,
  iz: number,
  limit: number,
): boolean {
  let near = 0;
  let far = limit;
  let one = ((bounds[at] as number) - ray.ox) * ix;
  let other = ((bounds[at + 3] as number) - ray.ox) * ix;
  if (one > other) {
    if (other > near) near = other;
    if (one < far) far = one;
  } else {
    if (one > near) near = one;
    if (other < far) far = other;
  }
  one = ((bounds[at + 1] as number) - ray.oy) * iy;
  other = ((bounds[at + 4] as number) - ray.oy) * iy;
  if (one > other) {
    if (other > near) near = other;
    if (one < far) far = one;
  } else {
    if (one > near) near = one;
    if (other < far) far = other;
  }
  one = ((bounds[at + 2] as number) - ray.oz) * iz;
  other = ((bounds[at + 5] as number) - ray.oz) * iz;
  if (one > other) {
    if (other > near) near = other;
    if (one < far) far = one;
  } else {
    if (one > near) near = one;
    if (other < far) far = other;
  }
  return near <= far;
}

function meetSphere(scene: Scene, index: number, ray: Ray, hit: Hit): void {
  const at = 4 * index;
  const x = ray.ox - (scene.spheres[at] as number);
  const y = ray.oy - (scene.spheres[at + 1] as number);
  const z = ray.oz - (scene.spheres[at + 2] as number);
  const radius = scene.spheres[at + 3] as number;
  const along = x * ray.dx + y * ray.dy + z * ray.dz;
  const under = along * along - (x * x + y * y + z * z - radius * radius);
  if (!(under > 0)) return;
  const root = Math.sqrt(under);
  let distance = -along - root;
  if (distance <= nearest) distance = root - along;
  if (distance <= nearest || distance >= hit.distance) return;
  hit.distance = distance;
  hit.primitive = index;
}

// T. Möller and B. Trumbore, Fast, minimum storage ray/triangle intersection, 1997.
function meetTriangle(scene: Scene, index: number, ray: Ray, hit: Hit): void {
  const { triangles } = scene;
  const at = 9 * (index - scene.sphereCount);
  const e1x = triangles[at + 3] as number;
  const e1y = triangles[at + 4] as number;
  const e1z = triangles[at + 5] as number;
  const e2x = triangles[at + 6] as number;
  const e2y = triangles[at + 7] as number;
  const e2z = triangles[at + 8] as number;
  const px = ray.dy * e2z - ray.dz * e2y;
  const py = ray.dz * e2x - ray.dx * e2z;
  const pz = ray.dx * e2y - ray.dy * e2x;
  const determinant = e1x * px + e1y * py + e1z * pz;
  if (determinant === 0) return;
  const tx = ray.ox - (triangles[at] as number);
  const ty = ray.oy - (triangles[at + 1] as number);
  const tz = ray.oz - (triangles[at + 2] as number);
  const u = (tx * px + ty * py + tz * pz) / determinant;
  if (!(u >= 0 && u <= 1)) return;
  const qx = ty * e1z - tz * e1y;
  const qy = tz * e1x - tx * e1z;
  const qz = tx * e1y - ty * e1x;
  const v = (ray.dx * qx + ray.dy * qy + ray.dz * qz) / determinant;
  if (!(v >= 0 && u + v <= 1)) return;
  const distance = (e2x * qx + e2y * qy + e2z * qz) / determinant;
  if (!(distance > nearest && distance < hit.distance)) return;
  hit.distance = distance;
  hit.primitive = index;
  hit.u = u;
  hit.v = v;
}
