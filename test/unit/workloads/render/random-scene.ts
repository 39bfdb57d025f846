import type { Random } from '../../../../src/workloads/corpus/random.ts';
import type { Hit, Ray } from '../../../../src/workloads/render/closest-hit.ts';
import {
  type Camera,
  type Material,
  type Scene,
  type Triple,
  uniformSky,
} from '../../../../src/workloads/render/scene.ts';
import { SceneBuilder } from '../../../../src/workloads/render/scene-builder.ts';

export const noCamera: Camera = { position: [0, 0, 0], target: [0, 0, -1], halfHeight: 1 };
export const grey: Material = { kind: 'diffuse', tint: [0.5, 0.5, 0.5] };

export function newHit(): Hit {
  return { distance: 0, primitive: -1, u: 0, v: 0 };
}

export function rayOf([ox, oy, oz]: Triple, [dx, dy, dz]: Triple): Ray {
  return { ox, oy, oz, dx, dy, dz };
}

/** Spheres and triangles in a box of side 10; some triangles lie in the planes of the axes. */
export function randomScene(random: Random, spheres: number, triangles: number): Scene {
  const place = (): number => 10 * random.unit() - 5;
  const point = (): Triple => [place(), place(), place()];
  const builder = new SceneBuilder();
  for (let index = 0; index < spheres; index += 1)
    builder.sphere(point(), 0.05 + random.unit(), grey);
  for (let index = 0; index < triangles; index += 1) {
    const [a, b, c] = [point(), point(), point()];
    const isFlat = random.below(3) === 0;
    builder.triangle(
      isFlat
        ? [
            [1, a[1], a[2]],
            [1, b[1], b[2]],
            [1, c[1], c[2]],
          ]
        : [a, b, c],
      grey,
    );
  }
  return builder.build(noCamera, uniformSky([1, 1, 1]));
}
