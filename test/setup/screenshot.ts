import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { expect } from 'vitest';

const folder = new URL('../golden/', import.meta.url);
/** Share of pixels that may differ: other versions of Chromium smooth edges in other ways. */
const tolerance = 0.01;
/** And within any square of a page that is mostly paper: else a whole bar or cell could be missing. */
const squareTolerance = 0.25;
const squareSize = 64;

/** Compares a picture with the approved one. `UPDATE_GOLDEN=1` writes it instead: look at it before committing. */
export function expectPicture(name: string, bytes: Buffer): void {
  const path = fileURLToPath(new URL(name, folder));
  if (process.env['UPDATE_GOLDEN'] === '1') {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, bytes);
  }
  if (!existsSync(path))
    throw new Error(`no approved picture ${path}: run once with UPDATE_GOLDEN=1 and look at it`);
  const [approved, found] = [PNG.sync.read(readFileSync(path)), PNG.sync.read(bytes)];
  expect([found.width, found.height], `size of ${name}`).toEqual([approved.width, approved.height]);
  const { width, height } = approved;
  const mask = new PNG({ width, height });
  const differing = pixelmatch(approved.data, found.data, mask.data, width, height, {
    threshold: 0.2,
    diffMask: true,
  });
  expect(differing / (width * height), `pixels of ${name} that differ`).toBeLessThan(tolerance);
  const [share, place] = worstSquare(mask);
  expect(share, `pixels of ${name} that differ at ${place}`).toBeLessThan(squareTolerance);
}

/** The square with the most marked pixels: their share, and where it is. */
function worstSquare({ width, height, data }: PNG): readonly [share: number, place: string] {
  const columns = Math.ceil(width / squareSize);
  const counts = new Map<number, number>();
  for (let at = 0; at < width * height; at += 1) {
    // Marked in opaque red; smoothed edges that count as alike are yellow.
    if (data[at * 4 + 3] === 0 || data[at * 4 + 1] !== 0) continue;
    const [x, y] = [at % width, Math.floor(at / width)];
    const square = Math.floor(y / squareSize) * columns + Math.floor(x / squareSize);
    counts.set(square, (counts.get(square) ?? 0) + 1);
  }
  const [square, count] = [...counts].reduce(
    (most, one) => (one[1] > most[1] ? one : most),
    [0, 0],
  );
  const place = `${(square % columns) * squareSize}, ${Math.floor(square / columns) * squareSize}`;
  return [count / squareSize ** 2, place];
}
