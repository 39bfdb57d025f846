import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomFor } from '../../../../src/workloads/corpus/random.ts';
import { buildTree } from '../../../../src/workloads/render/bounding-tree.ts';
import { closestHit, meetPrimitive } from '../../../../src/workloads/render/closest-hit.ts';
import { harbourLane } from '../../../../src/workloads/render/harbour-lane.ts';
import { drawOnSphere } from '../../../../src/workloads/render/sampling.ts';
import { type Scene, uniformSky } from '../../../../src/workloads/render/scene.ts';
import { SceneBuilder } from '../../../../src/workloads/render/scene-builder.ts';
import { grey, newHit, noCamera, randomScene, rayOf } from './random-scene.ts';

const disc = { x: 0, y: 0, square: 0 };

/** Compares tree and brute force for `count` rays, a third of them along an axis; returns how many met something. */
function compareWithBruteForce(scene: Scene, seed: number, count: number, side: number): number {
  const random = randomFor(seed, 1);
  const tree = buildTree(scene);
  let met = 0;
  for (let index = 0; index < count; index += 1) {
    const place = () => side * (random.unit() - 0.5);
    const ray = rayOf([place(), place(), place()], [0, 0, 0]);
    drawOnSphere(random, disc, ray);
    const axis = random.below(9);
    if (axis < 3) {
      ray.dx = axis === 0 ? -1 : 0;
      ray.dy = axis === 1 ? 1 : 0;
      ray.dz = axis === 2 ? 1 : 0;
    }
    const [found, expected] = [newHit(), newHit()];
    expected.distance = Number.POSITIVE_INFINITY;
    closestHit(scene, tree, ray, found);
    for (let primitive = 0; primitive < scene.materialOf.length; primitive += 1)
      meetPrimitive(scene, primitive, ray, expected);
    // The very same number: the tree only decides which primitives are asked.
    expect(found.distance).toBe(expected.distance);
    if (found.primitive >= 0) met += 1;
  }
  return met;
}

describe('the nearest hit', () => {
  it('through the tree is the one that asking every primitive finds', () => {
    fc.assert(
      fc.property(fc.nat(), fc.nat(12), fc.nat(80), (seed, spheres, triangles) => {
        const scene = randomScene(randomFor(seed), spheres, Math.max(1, triangles));
        compareWithBruteForce(scene, seed, 60, 12);
      }),
      { numRuns: 60 },
    );
  });

  it('is found in the harbour too', () => {
    expect(compareWithBruteForce(harbourLane(), 5, 300, 20)).toBeGreaterThan(50);
  });

  it('on a sphere covers the solid angle 2 pi (1 - cos theta)', () => {
    // Closed form: a sphere of radius r at distance d fills the cone with sin theta = r / d.
    for (const [radius, distance] of [
      [1, 2],
      [0.5, 4],
      [2.9, 3],
    ] as const) {
      const scene = new SceneBuilder()
        .sphere([0, 0, -distance], radius, grey)
        .build(noCamera, uniformSky([1, 1, 1]));
      const tree = buildTree(scene);
      const random = randomFor(2, distance);
      const [ray, hit] = [rayOf([0, 0, 0], [0, 0, 0]), newHit()];
      const draws = 200_000;
      let hits = 0;
      for (let draw = 0; draw < draws; draw += 1) {
        drawOnSphere(random, disc, ray);
        closestHit(scene, tree, ray, hit);
        if (hit.primitive === 0) hits += 1;
      }
      const cosine = Math.sqrt(1 - (radius / distance) ** 2);
      const share = (1 - cosine) / 2;
      const standardError = Math.sqrt((share * (1 - share)) / draws);
      expect(Math.abs(hits / draws - share)).toBeLessThan(2.5 * standardError);
    }
  });

  it('is nothing where there is nothing, and not the surface being left', () => {
    const scene = new SceneBuilder()
      .sphere([0, 0, 0], 1, grey)
      .build(noCamera, uniformSky([1, 1, 1]));
    const tree = buildTree(scene);
    const hit = newHit();
    closestHit(scene, tree, rayOf([0, 0, 1], [0, 0, 1]), hit);
    expect(hit.primitive).toBe(-1);
    closestHit(scene, tree, rayOf([0, 0, 1], [0, 0, -1]), hit);
    expect(hit.distance).toBeCloseTo(2, 12);
  });
});
