import { describe, expect, it } from 'vitest';
import { randomFor } from '../../../../src/workloads/corpus/random.ts';
import {
  type Direction,
  drawCosine,
  drawInCone,
  drawOnSphere,
} from '../../../../src/workloads/render/sampling.ts';

const disc = { x: 0, y: 0, square: 0 };
const draws = 100_000;

/** Mean and its standard error of what `measure` finds in many draws. */
function meanOf(draw: (into: Direction) => void, measure: (direction: Direction) => number) {
  const direction = { dx: 0, dy: 0, dz: 0 };
  let sum = 0;
  let squares = 0;
  for (let index = 0; index < draws; index += 1) {
    draw(direction);
    const value = measure(direction);
    sum += value;
    squares += value * value;
  }
  const mean = sum / draws;
  return { mean, error: Math.sqrt((squares / draws - mean * mean) / draws) };
}

const axes = [
  [0, 0, 1],
  [0, 0, -1],
  [0.6, 0, -0.8],
  [2 / 3, -2 / 3, 1 / 3],
] as const;

describe('drawn directions', () => {
  it.each(axes)('have length 1 and lie around their axis: %d %d %d', (nx, ny, nz) => {
    const random = randomFor(1);
    const length = ({ dx, dy, dz }: Direction) => Math.abs(dx * dx + dy * dy + dz * dz - 1);
    const cosine = ({ dx, dy, dz }: Direction) => dx * nx + dy * ny + dz * nz;
    const hemisphere = (into: Direction) => drawCosine(random, disc, nx, ny, nz, into);
    const cone = (into: Direction) => drawInCone(random, disc, nx, ny, nz, 0.3, into);
    expect(meanOf(hemisphere, length).mean).toBeLessThan(1e-14);
    expect(meanOf(cone, length).mean).toBeLessThan(1e-14);
    // Closed forms: the mean cosine is 2/3 under a cosine density, and the middle of its range in a cone.
    const overHemisphere = meanOf(hemisphere, cosine);
    expect(Math.abs(overHemisphere.mean - 2 / 3)).toBeLessThan(3 * overHemisphere.error);
    const overCone = meanOf(cone, cosine);
    expect(Math.abs(overCone.mean - 0.85)).toBeLessThan(3 * overCone.error);
  });

  it('cover the sphere evenly: each coordinate squared averages 1/3, each product 0', () => {
    const random = randomFor(2);
    const draw = (into: Direction) => drawOnSphere(random, disc, into);
    const moments: readonly [(direction: Direction) => number, number][] = [
      [({ dx }) => dx, 0],
      [({ dz }) => dz * dz, 1 / 3],
      [({ dx }) => dx * dx, 1 / 3],
      [({ dx, dy }) => dx * dy, 0],
      [({ dy, dz }) => dy * dz, 0],
    ];
    for (const [measure, expected] of moments) {
      const { mean, error } = meanOf(draw, measure);
      expect(Math.abs(mean - expected)).toBeLessThan(3 * error);
    }
  });
});
