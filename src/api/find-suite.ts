import { existsSync, readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const shippedFolder = fileURLToPath(new URL('../../suites', import.meta.url));

/** A suite's path: as given, or that of the shipped suite of this name. A relative path is one of `folder`. */
export function findSuite(given: string, folder: string | null = null): string {
  const path = folder === null ? given : resolve(folder, given);
  if (existsSync(path) || !/^[a-z0-9-]+$/.test(given)) return path;
  const shipped = join(shippedFolder, `${given}.yaml`);
  return existsSync(shipped) ? shipped : path;
}

/** Names of the shipped suites, sorted. */
export function shippedSuites(): readonly string[] {
  return readdirSync(shippedFolder)
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => name.slice(0, -'.yaml'.length))
    .sort();
}
