import { accessSync, constants, existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Something outside the project that a test needs: the path when present, else the reason it is skipped. */
export interface Need {
  readonly path: string;
  readonly missing: boolean;
}

// In CI everything is installed beforehand: there a missing need fails instead of being skipped, but for what the
// distribution does not have.
function need(what: string, path: string | null): Need {
  if (path !== null) return { path, missing: false };
  const known = (process.env['STEADYRIG_ABSENT'] ?? '').split(' ').includes(what);
  if (process.env['STEADYRIG_NO_SKIPS'] === '1' && !known)
    throw new Error(`${what} is missing, and skips are errors here`);
  console.warn(`tests that need ${what} are skipped: it is not on this machine`);
  return { path: what, missing: true };
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

const referenceFolder = fileURLToPath(new URL('../../../shared/reference', import.meta.url));

export const needs = {
  /** A program on PATH. */
  program(name: string): Need {
    const found = (process.env['PATH'] ?? '')
      .split(delimiter)
      .map((folder) => join(folder, name))
      .find(isExecutable);
    return need(name, found ?? null);
  },
  /** A published data set that may not be copied into the repo; read from the folder beside it. */
  reference(id: string): Need {
    const path = join(referenceFolder, `${id}.json`);
    return need(`reference data ${id}`, existsSync(path) ? path : null);
  },
};
