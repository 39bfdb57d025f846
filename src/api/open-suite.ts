import type { Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';
import { shippedCatalog } from '../model/shipped-catalog.ts';
import { type LoadedSuite, loadSuite } from '../suite/load.ts';

/**
 * Reads and checks a suite file; all its problems at once, each with its place. `profile` names another form of the
 * suite, such as a shortened one; null is the suite as written.
 */
export function openSuite(
  path: string,
  profile: string | null = null,
): Promise<Result<LoadedSuite, readonly Problem[]>> {
  return loadSuite(path, shippedCatalog, profile);
}
