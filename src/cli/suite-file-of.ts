import { existsSync } from 'node:fs';
import { whySuiteFile } from '../api/continue/suite-to-continue.ts';
import { findSuite } from '../api/find-suite.ts';
import { openSuite } from '../api/open-suite.ts';
import { ok, type Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';
import type { Sitting } from '../model/sitting.ts';
import type { LoadedSuite } from '../suite/load.ts';

/** The suite file, where the record alone is not enough: as given, else the shipped one of that name. */
export async function suiteFileOf(
  sitting: Sitting,
  given: string | undefined,
): Promise<Result<LoadedSuite | null, readonly Problem[]>> {
  const { id, profile } = sitting.suite.resolved;
  if (given !== undefined) return openSuite(findSuite(given), profile);
  if (whySuiteFile(sitting) === null) return ok(null);
  const shipped = findSuite(id);
  if (shipped === id || !existsSync(shipped)) return ok(null);
  const loaded = await openSuite(shipped, profile);
  return ok(
    loaded.ok && loaded.value.textSha256 === sitting.suite.textSha256 ? loaded.value : null,
  );
}
