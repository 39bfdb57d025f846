import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';

const folder = new URL('../golden/', import.meta.url);

/**
 * Checks a text against the file of that name in test/golden. `UPDATE_GOLDEN=1` writes the file instead: look at the
 * difference before committing it.
 */
export function expectGolden(name: string, text: string): void {
  const path = fileURLToPath(new URL(name, folder));
  if (process.env['UPDATE_GOLDEN'] === '1') {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, text);
  }
  if (!existsSync(path))
    throw new Error(`no golden file ${path}: run once with UPDATE_GOLDEN=1 and look at it`);
  expect(text).toBe(readFileSync(path, 'utf8'));
}
