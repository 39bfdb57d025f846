import type { Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';
import { shippedCatalog } from '../model/shipped-catalog.ts';
import { type LoadedSuite, loadSuite } from '../suite/load.ts';

/** Reads and checks a suite file; all its problems at once, each with its place. */
export function openSuite(path: string): Promise<Result<LoadedSuite, readonly Problem[]>> {
  return loadSuite(path, shippedCatalog);
}
