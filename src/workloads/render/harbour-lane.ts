import { randomFor } from '../corpus/random.ts';
import type { Material, Scene, Triple } from './scene.ts';
import { normalised, SceneBuilder } from './scene-builder.ts';

const stone: Material = { kind: 'diffuse', tint: [0.42, 0.38, 0.35] };
const plank: Material = { kind: 'diffuse', tint: [0.4, 0.25, 0.14] };
const iron: Material = { kind: 'diffuse', tint: [0.05, 0.06, 0.07] };
const tile: Material = { kind: 'diffuse', tint: [0.3, 0.12, 0.08] };
const amber: Material = { kind: 'diffuse', tint: [0.95, 0.7, 0.3] };
const hill: Material = { kind: 'diffuse', tint: [0.1, 0.11, 0.19] };
const white: Material = { kind: 'polished', tint: [0.85, 0.83, 0.78], index: 1.5 };
const red: Material = { kind: 'polished', tint: [0.72, 0.06, 0.04], index: 1.5 };
const orange: Material = { kind: 'polished', tint: [0.85, 0.3, 0.03], index: 1.5 };
const blue: Material = { kind: 'polished', tint: [0.05, 0.16, 0.4], index: 1.5 };
const water: Material = { kind: 'polished', tint: [0.02, 0.055, 0.07], index: 1.33 };
const steel: Material = { kind: 'mirror', tint: [0.82, 0.82, 0.85] };
const greenGlass: Material = { kind: 'glass', tint: [0.75, 0.97, 0.85], index: 1.5 };
const clearGlass: Material = { kind: 'glass', tint: [0.98, 0.98, 0.98], index: 1.5 };
const lantern: Material = { kind: 'lamp', radiance: [26, 15, 6] };
const beacon: Material = { kind: 'lamp', radiance: [60, 48, 30] };

/** A harbour at dusk: a quay with lanterns, a boat, buoys, net floats of glass, a lighthouse and some 10,000 triangles of waves. */
export function harbourLane(): Scene {
  const builder = new SceneBuilder();
  addWater(builder);
  addQuay(builder);
  addFloats(builder);
  addBoat(builder);
  addLighthouse(builder);
  addHills(builder);
  return builder.build(
    { position: [1.6, 2.3, 9.5], target: [-0.1, 1.25, 0], halfHeight: 0.42 },
    {
      horizon: [1.05, 0.52, 0.3],
      zenith: [0.1, 0.19, 0.42],
      glow: [1.7, 0.75, 0.28],
      glowDirection: normalised([0.28, 0.07, -1]),
    },
  );
}

/** Cells grow with the distance, so that waves look alike near and far. */
function addWater(builder: SceneBuilder): void {
  const [columns, rows] = [72, 72];
  const random = randomFor(11, 1);
  const depthOf = (row: number): number => 10 - 75 * (row / rows) * (row / rows);
  const points: Triple[][] = [];
  for (let row = 0; row <= rows; row += 1) {
    const z = depthOf(row);
    const halfWidth = 7 + (10 - z) * 1.1;
    const roughness = 0.035 + 0.0035 * (10 - z);
    points.push(
      Array.from({ length: columns + 1 }, (_, column): Triple => {
        return [halfWidth * ((2 * column) / columns - 1), roughness * (random.unit() - 0.5), z];
      }),
    );
  }
  const at = (row: number, column: number): Triple =>
    points[Math.min(Math.max(row, 0), rows)]?.[Math.min(Math.max(column, 0), columns)] ?? [0, 0, 0];
  // From the neighbours' heights: smooth waves instead of facets.
  const normalAt = (row: number, column: number): Triple => {
    const [west, east] = [at(row, column - 1), at(row, column + 1)];
    const [near, far] = [at(row - 1, column), at(row + 1, column)];
    return normalised([
      (west[1] - east[1]) / (east[0] - west[0]),
      1,
      (far[1] - near[1]) / (near[2] - far[2]),
    ]);
  };
  for (let row = 0; row < rows; row += 1)
    for (let column = 0; column < columns; column += 1) {
      const corners = [
        [row, column],
        [row, column + 1],
        [row + 1, column + 1],
        [row + 1, column],
      ] as const;
      const [a, b, c, d] = corners.map(([r, s]) => at(r, s)) as [Triple, Triple, Triple, Triple];
      const [na, nb, nc, nd] = corners.map(([r, s]) => normalAt(r, s)) as [
        Triple,
        Triple,
        Triple,
        Triple,
      ];
      builder.triangle([a, b, c], water, [na, nb, nc]).triangle([a, c, d], water, [na, nc, nd]);
    }
}

function addQuay(builder: SceneBuilder): void {
  builder
    .box([-30, -1, -26], [-3.2, 0.72, 12], stone)
    .box([-3.45, 0.72, -26], [-3.15, 0.84, 12], plank);
  for (const z of [-22, -13.5, -5.5, 2.2]) {
    builder
      .ring([-4.3, 0.72, z], [0.16, 0], [0.07, 0.5], iron)
      .ring([-4.3, 0.72, z], [0.06, 0.5], [0.05, 2.75], iron);
    builder
      .ring([-4.3, 0.72, z], [0.05, 2.75], [0.3, 2.9], iron)
      .ring([-4.3, 0.72, z], [0.34, 3.5], [0, 3.75], iron);
    builder.sphere([-4.3, 3.92, z], 0.26, lantern);
  }
  for (const z of [5.2, 0, -3.2, -9.5])
    builder
      .ring([-3.7, 0.72, z], [0.17, 0], [0.12, 0.42], iron)
      .sphere([-3.7, 1.28, z], 0.2, steel);
  builder
    .box([-6.6, 0.72, -1.4], [-5.3, 1.6, -0.2], plank)
    .box([-6.4, 1.6, -1.2], [-5.5, 2.3, -0.4], plank);
  builder.box([-7.6, 0.72, 0.4], [-6.4, 1.45, 1.5], plank);
  addHouses(builder);
}

function addHouses(builder: SceneBuilder): void {
  const houses = [
    [-25, -17, 3.6, red],
    [-16, -9, 4.2, blue],
    [-8, -2, 3.4, white],
  ] as const;
  const [back, front, middle] = [-14, -8.5, -11.25];
  for (const [far, near, eaves, material] of houses) {
    const ridge = eaves + 2.1;
    builder.box([back, 0.72, far], [front, eaves, near], material);
    for (const z of [far, near])
      builder.triangle(
        [
          [back, eaves, z],
          [front, eaves, z],
          [middle, ridge, z],
        ],
        material,
      );
    for (const x of [back - 0.3, front + 0.3]) {
      const low = eaves - 0.2;
      const [from, to] = [far - 0.2, near + 0.2];
      builder.quad([x, low, from], [x, low, to], [middle, ridge, to], [middle, ridge, from], tile);
    }
    for (let z = far + 1.4; z < near - 1; z += 2.2) {
      const isLit = Math.floor(z) % 3 === 0;
      builder.box([front, 1.9, z], [front + 0.04, 3, z + 0.8], isLit ? amber : iron);
    }
  }
}

function addFloats(builder: SceneBuilder): void {
  builder.sphere([-5.6, 2.62, -0.8], 0.32, greenGlass).sphere([-3.55, 1.2, 2.9], 0.36, greenGlass);
  builder.sphere([-0.75, 0.22, 5.6], 0.34, greenGlass).sphere([0.15, 0.2, 4.9], 0.28, clearGlass);
  const buoys: readonly (readonly [number, number, number, Material])[] = [
    [2.6, 4.6, 0.42, orange],
    [-1.9, 2.7, 0.4, red],
    [4.6, 0.2, 0.5, white],
    [0.6, -8, 0.6, orange],
    [6.8, -6, 0.6, red],
    [-1.6, -15, 0.7, white],
    [10, -16, 0.9, orange],
  ];
  for (const [x, z, radius, material] of buoys) {
    builder.sphere([x, radius * 0.45, z], radius, material);
    builder.ring([x, radius * 1.35, z], [0.06, 0], [0.04, radius], iron);
  }
}

/** A hull between seven frames, each a keel, a bilge and a rail on either side. */
function addBoat(builder: SceneBuilder): void {
  const frames = [
    [-2.5, 0.5, 0.3],
    [-2.1, 0.85, 0.1],
    [-1, 1.05, -0.1],
    [0.2, 1.1, -0.15],
    [1.4, 0.9, -0.05],
    [2.3, 0.5, 0.2],
    [2.9, 0.03, 0.6],
  ] as const;
  const [x, z] = [1.7, -1.6];
  // The boat lies askew: its length runs along (0.8, -0.6).
  const place = (along: number, across: number, height: number): Triple => [
    x + 0.8 * along + 0.6 * across,
    height,
    z - 0.6 * along + 0.8 * across,
  ];
  for (const side of [-1, 1])
    for (const [index, [along, width, keel]] of frames.entries()) {
      const [nextAlong, nextWidth, nextKeel] = frames[index + 1] ?? [along, width, keel];
      const rail = 0.75 + 0.05 * along * along;
      const nextRail = 0.75 + 0.05 * nextAlong * nextAlong;
      const bilge = place(along, 0.8 * side * width, keel + 0.25);
      const nextBilge = place(nextAlong, 0.8 * side * nextWidth, nextKeel + 0.25);
      builder.quad(place(along, 0, keel), place(nextAlong, 0, nextKeel), nextBilge, bilge, red);
      builder.quad(
        bilge,
        nextBilge,
        place(nextAlong, side * nextWidth, nextRail),
        place(along, side * width, rail),
        blue,
      );
      builder.quad(
        place(along, 0, 0.62),
        place(nextAlong, 0, 0.62),
        place(nextAlong, side * nextWidth, 0.66),
        place(along, side * width, 0.66),
        plank,
      );
    }
  builder.quad(
    place(-2.5, -0.5, 1.06),
    place(-2.5, 0.5, 1.06),
    place(-2.5, 0.4, 0.3),
    place(-2.5, -0.4, 0.3),
    white,
  );
  const [a, b, c, d] = [
    place(-1.5, -0.55, 0.66),
    place(-0.1, -0.55, 0.66),
    place(-0.1, 0.55, 0.66),
    place(-1.5, 0.55, 0.66),
  ];
  const raised = ([px, py, pz]: Triple): Triple => [px, py + 1.15, pz];
  builder
    .quad(a, b, raised(b), raised(a), white)
    .quad(b, c, raised(c), raised(b), white)
    .quad(c, d, raised(d), raised(c), white)
    .quad(d, a, raised(a), raised(d), white);
  builder.quad(raised(a), raised(b), raised(c), raised(d), red);
  builder
    .ring(place(0.9, 0, 0.6), [0.06, 0], [0.04, 3.1], plank)
    .sphere(place(0.9, 0, 3.78), 0.1, lantern);
}

function addLighthouse(builder: SceneBuilder): void {
  const base: Triple = [9.5, 0, -30];
  builder.ring(base, [5, -0.5], [3.2, 0.9], stone).ring(base, [3.2, 0.9], [0, 1.4], stone);
  for (let stripe = 0; stripe < 6; stripe += 1) {
    const [low, high] = [1 + 1.25 * stripe, 2.25 + 1.25 * stripe];
    builder.ring(
      base,
      [1.4 - 0.1 * stripe, low],
      [1.3 - 0.1 * stripe, high],
      stripe % 2 === 0 ? white : red,
    );
  }
  builder.ring(base, [1.15, 8.5], [1.15, 8.7], iron).ring(base, [1.15, 8.7], [0, 8.7], iron);
  builder.sphere([base[0], 9.25, base[2]], 0.5, beacon).ring(base, [0.9, 9.9], [0, 10.8], red);
}

function addHills(builder: SceneBuilder): void {
  const random = randomFor(11, 2);
  for (const [z, rise] of [
    [-64, 5],
    [-58, 2.6],
  ] as const) {
    let [x, height] = [-90, rise * 0.6];
    while (x < 90) {
      const nextX = x + 2 + 3 * random.unit();
      const nextHeight = Math.min(rise, Math.max(0.5, height + rise * 0.5 * (random.unit() - 0.5)));
      builder.quad([x, -1, z], [nextX, -1, z], [nextX, nextHeight, z], [x, height, z], hill);
      [x, height] = [nextX, nextHeight];
    }
  }
}
