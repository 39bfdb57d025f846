import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** A suite's path: as given, or that of the shipped suite of this name. */
export function findSuite(given: string): string {
  if (existsSync(given) || !/^[a-z0-9-]+$/.test(given)) return given;
  const shipped = fileURLToPath(new URL(`../../suites/${given}.yaml`, import.meta.url));
  return existsSync(shipped) ? shipped : given;
}
