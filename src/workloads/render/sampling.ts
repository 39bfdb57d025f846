import type { Random } from '../corpus/random.ts';

/** A direction; overwritten by each draw. */
export interface Direction {
  dx: number;
  dy: number;
  dz: number;
}

/** A point of the unit disc, found by rejection; `square` is its squared distance from the centre. */
export interface DiscPoint {
  x: number;
  y: number;
  square: number;
}

/** Uniform in the unit disc without its centre: no sine, cosine or root. */
function drawInDisc(random: Random, point: DiscPoint): void {
  do {
    point.x = 2 * random.unit() - 1;
    point.y = 2 * random.unit() - 1;
    point.square = point.x * point.x + point.y * point.y;
  } while (point.square >= 1 || point.square === 0);
}

/** Uniform over the sphere (G. Marsaglia, Choosing a point from the surface of a sphere, 1972). */
export function drawOnSphere(random: Random, point: DiscPoint, into: Direction): void {
  drawInDisc(random, point);
  const scale = 2 * Math.sqrt(1 - point.square);
  into.dx = scale * point.x;
  into.dy = scale * point.y;
  into.dz = 1 - 2 * point.square;
}

/** Around the unit vector n with density proportional to the cosine: a disc point lifted onto the hemisphere. */
export function drawCosine(
  random: Random,
  point: DiscPoint,
  nx: number,
  ny: number,
  nz: number,
  into: Direction,
): void {
  drawInDisc(random, point);
  turnTo(nx, ny, nz, point.x, point.y, Math.sqrt(1 - point.square), into);
}

/** Uniform over the cone around the unit vector n whose half angle has 1 - cosine = `lessCosine`. */
export function drawInCone(
  random: Random,
  point: DiscPoint,
  nx: number,
  ny: number,
  nz: number,
  lessCosine: number,
  into: Direction,
): void {
  const below = random.unit() * lessCosine;
  drawInDisc(random, point);
  // sin² = 1 - (1 - below)²; the disc point only gives the angle around the axis.
  const scale = Math.sqrt((below * (2 - below)) / point.square);
  turnTo(nx, ny, nz, scale * point.x, scale * point.y, 1 - below, into);
}

// (x, y, z) in a frame whose third axis is n. T. Duff and others, Building an orthonormal basis, revisited, 2017.
function turnTo(
  nx: number,
  ny: number,
  nz: number,
  x: number,
  y: number,
  z: number,
  into: Direction,
): void {
  const sign = nz >= 0 ? 1 : -1;
  const a = -1 / (sign + nz);
  const b = nx * ny * a;
  into.dx = x * (1 + sign * nx * nx * a) + y * b + z * nx;
  into.dy = x * sign * b + y * (sign + ny * ny * a) + z * ny;
  into.dz = -x * sign * nx - y * ny + z * nz;
}
