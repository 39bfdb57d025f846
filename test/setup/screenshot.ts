import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { expect } from 'vitest';

const folder = new URL('../golden/', import.meta.url);
/** Share of pixels that may differ: other versions of Chromium smooth edges in other ways. */
const tolerance = 0.02;

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
  const differing = pixelmatch(approved.data, found.data, undefined, width, height, {
    threshold: 0.2,
  });
  expect(differing / (width * height), `pixels of ${name} that differ`).toBeLessThan(tolerance);
}
