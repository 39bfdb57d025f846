import { type Random, randomFor } from '../corpus/random.ts';
import { type Planes, videoHeight, videoWidth } from './video-planes.ts';
import { type Texture, textureHeight, textureWidth } from './video-texture.ts';

const discsInShot = 14;

/** What is to be seen until the next cut. */
export interface Shot {
  /** Corner of the texture at the beginning, and how far it moves in a frame; never below 0 within a shot. */
  readonly left: number;
  readonly top: number;
  readonly panX: number;
  readonly panY: number;
  readonly blue: number;
  readonly red: number;
  /** The later ones cover the earlier. */
  readonly discs: readonly Disc[];
}

export interface Disc {
  readonly x: number;
  readonly y: number;
  readonly stepX: number;
  readonly stepY: number;
  readonly radius: number;
  readonly shade: number;
  readonly blue: number;
  readonly red: number;
}

export function makeShot(seed: number, number: number): Shot {
  const random = randomFor(seed, 0x53484f54, number);
  return {
    left: 1024 + random.below(textureWidth),
    top: 1024 + random.below(textureHeight),
    panX: random.below(9) - 4,
    panY: random.below(5) - 2,
    blue: 108 + random.below(40),
    red: 108 + random.below(40),
    discs: Array.from({ length: discsInShot }, () => makeDisc(random)),
  };
}

function makeDisc(random: Random): Disc {
  return {
    x: random.below(videoWidth),
    y: random.below(videoHeight),
    stepX: random.below(13) - 6,
    stepY: random.below(13) - 6,
    radius: 12 + random.below(52),
    shade: random.below(64) - 32,
    blue: 64 + random.below(128),
    red: 64 + random.below(128),
  };
}

/** The texture of a disc moves with it, so that motion can be found. */
export function drawDisc(
  { luma, blue, red }: Planes,
  texture: Texture,
  disc: Disc,
  time: number,
): void {
  const centreX = bounce(disc.x + disc.stepX * time, videoWidth);
  const centreY = bounce(disc.y + disc.stepY * time, videoHeight);
  const { radius, shade } = disc;
  const square = radius * radius;
  const chromaWidth = videoWidth / 2;
  for (let y = Math.max(0, centreY - radius); y < Math.min(videoHeight, centreY + radius); y += 1) {
    const downwards = (y - centreY) * (y - centreY);
    const row = ((y - centreY + disc.y + 512) & (textureHeight - 1)) * textureWidth;
    for (
      let x = Math.max(0, centreX - radius);
      x < Math.min(videoWidth, centreX + radius);
      x += 1
    ) {
      if (downwards + (x - centreX) * (x - centreX) > square) continue;
      const grain = texture[row + ((x - centreX + disc.x + 1024) & (textureWidth - 1))] ?? 0;
      luma[y * videoWidth + x] = Math.min(232, Math.max(19, grain + shade));
      if (((x | y) & 1) === 1) continue;
      blue[(y >> 1) * chromaWidth + (x >> 1)] = disc.blue;
      red[(y >> 1) * chromaWidth + (x >> 1)] = disc.red;
    }
  }
}

/** A place that goes to and fro between 0 and the limit. */
function bounce(place: number, limit: number): number {
  const period = 2 * limit;
  const at = ((place % period) + period) % period;
  return at < limit ? at : period - 1 - at;
}
