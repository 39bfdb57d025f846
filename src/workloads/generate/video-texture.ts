import { randomFor } from '../corpus/random.ts';

export const textureWidth = 1024;
export const textureHeight = 512;

/** Luma values from 32 to 223, row by row; its edges fit together. */
export type Texture = Uint8Array;

const cellSizes = [128, 32, 8, 4] as const;

/** Value noise in four sizes, the larger the stronger, with whole numbers throughout. */
export function makeTexture(seed: number): Texture {
  const sums = new Uint32Array(textureWidth * textureHeight);
  cellSizes.forEach((cell, index) => {
    addLayer(sums, cell, 8 >> index, seed);
  });
  // Weights 8, 4, 2 and 1 of values up to 255.
  return Uint8Array.from(sums, (sum) => 32 + Math.floor((sum * 191) / (15 * 255)));
}

/** Random values at the corners of cells, and between them what lies between. */
function addLayer(sums: Uint32Array, cell: number, weight: number, seed: number): void {
  const random = randomFor(seed, 0x54455854, cell);
  const across = textureWidth / cell;
  const down = textureHeight / cell;
  const corners = Uint8Array.from({ length: across * down }, () => random.next() >>> 24);
  for (let y = 0; y < textureHeight; y += 1) {
    const upper = Math.floor(y / cell) * across;
    const lower = ((Math.floor(y / cell) + 1) % down) * across;
    const fall = y % cell;
    for (let x = 0; x < textureWidth; x += 1) {
      const here = Math.floor(x / cell);
      const next = (here + 1) % across;
      const along = x % cell;
      const top =
        (corners[upper + here] ?? 0) * (cell - along) + (corners[upper + next] ?? 0) * along;
      const low =
        (corners[lower + here] ?? 0) * (cell - along) + (corners[lower + next] ?? 0) * along;
      const value = Math.floor((top * (cell - fall) + low * fall) / (cell * cell));
      const at = y * textureWidth + x;
      sums[at] = (sums[at] ?? 0) + weight * value;
    }
  }
}
