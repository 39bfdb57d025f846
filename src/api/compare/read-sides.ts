import { err, type Result } from '../../lib/result.ts';
import type { Problem } from '../../model/problem.ts';
import type { IndexPlace } from '../../results/index/index-place.ts';
import { selectSittings } from '../../results/select/select-sittings.ts';
import { readSelection, type SidesRead } from './read-selection.ts';

export interface SideOptions {
  /** Folder of the sittings. Default `results`. */
  readonly results?: string;
  /** Id of a suite, or the first hex digits of a digest: only its sittings are taken of rigs and patterns. */
  readonly suite?: string;
  /** Compare sealed sittings with their seals first. Default true. */
  readonly verify?: boolean;
  /** Where what was found in sealed sittings is kept for later calls. Default null: nowhere, all is read each time. */
  readonly index?: IndexPlace | null;
}

/** The figures of the sittings that selectors name. Codes: those of `selectSittings` and of `readSelection`. */
export async function readSides(
  selectors: readonly string[],
  { results = 'results', suite, verify = true, index = null }: SideOptions,
): Promise<Result<SidesRead, readonly Problem[]>> {
  const selected = await selectSittings(selectors, { results, suite: suite ?? null, index });
  if (!selected.ok) return err([selected.error]);
  return readSelection(selected.value, { results, verify, index });
}
