import { describe, expect, it } from 'vitest';
import { randomFor } from '../../../../src/workloads/corpus/random.ts';
import { buildTree } from '../../../../src/workloads/render/bounding-tree.ts';
import { PathTracer } from '../../../../src/workloads/render/path-tracer.ts';
import {
  type Material,
  type Scene,
  type Triple,
  uniformSky,
} from '../../../../src/workloads/render/scene.ts';
import { SceneBuilder } from '../../../../src/workloads/render/scene-builder.ts';
import { noCamera } from './random-scene.ts';

const light: Triple = [0.7, 1.3, 0.2];
const white: Triple = [1, 1, 1];
const nothing: Triple = [0, 0, 0];

function tracerOf(scene: Scene): PathTracer {
  return new PathTracer(scene, buildTree(scene));
}

function traceFrom(tracer: PathTracer, origin: Triple, direction: Triple, seed: number): Triple {
  Object.assign(tracer.ray, {
    ox: origin[0],
    oy: origin[1],
    oz: origin[2],
    dx: direction[0],
    dy: direction[1],
    dz: direction[2],
  });
  tracer.trace(randomFor(seed));
  return [...tracer.radiance] as unknown as Triple;
}

describe('light paths', () => {
  const materials: readonly Material[] = [
    { kind: 'diffuse', tint: white },
    { kind: 'mirror', tint: white },
    { kind: 'glass', tint: white, index: 1.5 },
    { kind: 'polished', tint: white, index: 1.5 },
  ];

  it.each(materials)(
    'in uniform light bring exactly that light from a white surface: $kind',
    (material) => {
      // The furnace test: what loses nothing cannot be told from its surroundings.
      const scene = new SceneBuilder()
        .sphere([0, 0, -3], 1, material)
        .box([-2, -2, -5], [2, -1.2, -1], material)
        .ring([0, -1.2, -3], [1.8, 0], [1.4, 2.5], material)
        .build(noCamera, uniformSky(light));
      const tracer = tracerOf(scene);
      const draw = randomFor(1);
      for (let path = 0; path < 5000; path += 1) {
        const [x, y] = [0.8 * (draw.unit() - 0.5), 0.8 * (draw.unit() - 0.5)];
        const length = Math.sqrt(x * x + y * y + 1);
        const found = traceFrom(tracer, [0, 0, 0], [x / length, y / length, -1 / length], path);
        expect(found).toEqual(light);
      }
    },
  );

  it('from a grey plane under uniform light bring the light times its tint', () => {
    const tint: Triple = [0.5, 0.25, 0.125];
    const scene = new SceneBuilder()
      .quad([-9, -9, -1], [9, -9, -1], [9, 9, -1], [-9, 9, -1], { kind: 'diffuse', tint })
      .build(noCamera, uniformSky([2, 2, 2]));
    expect(traceFrom(tracerOf(scene), [0, 0, 0], [0, 0, -1], 1)).toEqual([1, 0.5, 0.25]);
  });

  it('bring as much from under a spherical lamp as the closed form says', () => {
    // A sphere of radiance L, radius R, straight above at distance d to its centre: irradiance pi L (R / d)²,
    // so a diffuse surface of tint a sends a L (R / d)². Textbook form factor, from memory.
    const [radius, distance, radiance, tint] = [0.8, 2.5, 7, 0.6];
    const scene = new SceneBuilder()
      .quad([-50, 0, -50], [-50, 0, 50], [50, 0, 50], [50, 0, -50], {
        kind: 'diffuse',
        tint: [tint, tint, tint],
      })
      .sphere([0, distance, 0], radius, { kind: 'lamp', radiance: [radiance, radiance, radiance] })
      .build(noCamera, uniformSky(nothing));
    const tracer = tracerOf(scene);
    const draws = 40_000;
    let sum = 0;
    let squares = 0;
    for (let draw = 0; draw < draws; draw += 1) {
      const [found] = traceFrom(tracer, [1, 1, 0], [-Math.SQRT1_2, -Math.SQRT1_2, 0], draw);
      sum += found;
      squares += found * found;
    }
    const mean = sum / draws;
    const standardError = Math.sqrt((squares / draws - mean * mean) / draws);
    expect(Math.abs(mean - tint * radiance * (radius / distance) ** 2)).toBeLessThan(
      3 * standardError,
    );
    expect(standardError / mean).toBeLessThan(0.01);
  });

  it('bend at glass by Snell’s law, or go back by the law of reflection', () => {
    const index = 1.5;
    const scene = new SceneBuilder()
      .quad([-9, 0, -9], [-9, 0, 9], [9, 0, 9], [9, 0, -9], { kind: 'glass', tint: white, index })
      .build(noCamera, uniformSky(white));
    const tracer = tracerOf(scene);
    for (const sine of [0.1, 0.5, 0.9]) {
      const seen = new Set<number>();
      for (let seed = 0; seed < 300; seed += 1) {
        const cosine = Math.sqrt(1 - sine * sine);
        traceFrom(tracer, [-sine, cosine, 0], [sine, -cosine, 0], seed);
        const { dx, dy } = tracer.ray;
        seen.add(Math.sign(dy));
        expect(dx).toBeCloseTo(dy < 0 ? sine / index : sine, 12);
        expect(dx * dx + dy * dy).toBeCloseTo(1, 12);
      }
      expect(seen.size).toBe(2);
    }
  });

  it('leave a pane of glass in the direction they came, or mirrored', () => {
    const scene = new SceneBuilder()
      .box([-90, -1, -90], [90, 0, 90], { kind: 'glass', tint: white, index: 1.5 })
      .build(noCamera, uniformSky(white));
    const tracer = tracerOf(scene);
    for (let seed = 0; seed < 200; seed += 1) {
      traceFrom(tracer, [0, 0.8, 0], [0.6, -0.8, 0], seed);
      expect(tracer.ray.dx).toBeCloseTo(0.6, 12);
      expect(Math.abs(tracer.ray.dy)).toBeCloseTo(0.8, 12);
    }
  });
});
