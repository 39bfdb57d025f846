import { randomFor } from '../corpus/random.ts';
import type { PathTracer } from './path-tracer.ts';
import type { Camera, Triple } from './scene.ts';
import { cross, minus, normalised } from './scene-builder.ts';
import { levelOf } from './srgb.ts';

/** What is rendered in how many samples; `pixels` is memory that threads share, 3 bytes a pixel. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly samples: number;
  readonly seed: number;
  readonly pixels: Uint8Array;
}

const tileSide = 16;
// One sample counts at most this much: a rare bright path would be a speck in a picture of few samples.
const brightest = 12;

export function tileCount({ width, height }: Picture): number {
  return Math.ceil(width / tileSide) * Math.ceil(height / tileSide);
}

/** Renders tile `tile` of the picture; tiles are numbered row by row. Pixels do not depend on one another. */
export function renderTile(
  tracer: PathTracer,
  camera: Camera,
  picture: Picture,
  tile: number,
): void {
  const across = Math.ceil(picture.width / tileSide);
  const left = (tile % across) * tileSide;
  const top = Math.floor(tile / across) * tileSide;
  const frame = frameOf(camera);
  for (let y = top; y < Math.min(top + tileSide, picture.height); y += 1)
    for (let x = left; x < Math.min(left + tileSide, picture.width); x += 1)
      renderPixel(tracer, frame, picture, x, y);
}

interface Frame {
  readonly camera: Camera;
  readonly forward: Triple;
  readonly right: Triple;
  readonly up: Triple;
}

function frameOf(camera: Camera): Frame {
  const forward = normalised(minus(camera.target, camera.position));
  const right = normalised(cross(forward, [0, 1, 0]));
  return { camera, forward, right, up: cross(right, forward) };
}

function renderPixel(
  tracer: PathTracer,
  frame: Frame,
  picture: Picture,
  x: number,
  y: number,
): void {
  const { width, height, samples, seed, pixels } = picture;
  const pixel = y * width + x;
  const random = randomFor(seed, 0x504958, pixel);
  let red = 0;
  let green = 0;
  let blue = 0;
  for (let sample = 0; sample < samples; sample += 1) {
    aim(
      tracer,
      frame,
      (2 * (x + random.unit()) - width) / height,
      1 - (2 * (y + random.unit())) / height,
    );
    tracer.trace(random);
    red += Math.min(brightest, tracer.radiance[0] as number);
    green += Math.min(brightest, tracer.radiance[1] as number);
    blue += Math.min(brightest, tracer.radiance[2] as number);
  }
  pixels[3 * pixel] = levelOf(red / samples);
  pixels[3 * pixel + 1] = levelOf(green / samples);
  pixels[3 * pixel + 2] = levelOf(blue / samples);
}

/** Points the tracer's ray at a place of the picture: -1 to 1 from bottom to top, in the same scale across. */
function aim(
  { ray }: PathTracer,
  { camera, forward, right, up }: Frame,
  across: number,
  upwards: number,
): void {
  const a = across * camera.halfHeight;
  const b = upwards * camera.halfHeight;
  const x = forward[0] + a * right[0] + b * up[0];
  const y = forward[1] + a * right[1] + b * up[1];
  const z = forward[2] + a * right[2] + b * up[2];
  const length = Math.sqrt(x * x + y * y + z * z);
  ray.ox = camera.position[0];
  ray.oy = camera.position[1];
  ray.oz = camera.position[2];
  ray.dx = x / length;
  ray.dy = y / length;
  ray.dz = z / length;
}
