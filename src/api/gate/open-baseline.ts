import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { err, ok, type Result } from '../../lib/result.ts';
import { suggest } from '../../lib/suggest.ts';
import type { Baseline } from '../../model/baselines.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import { readBaselines } from '../../results/baseline-file.ts';
import { checkedSeal } from './checked-seal.ts';

export interface OpenedBaseline {
  readonly baseline: Baseline;
  /** Of its sittings, in their order. */
  readonly folders: readonly string[];
}

/** A named baseline whose sittings are there and as they were when it was set. Codes: those of `readBaselines` and `checkedSeal`; `option-invalid`. */
export async function openBaseline(
  name: string,
  file: string,
  results: string,
): Promise<Result<OpenedBaseline, Problem>> {
  const known = await readBaselines(file);
  if (!known.ok) return known;
  const { baselines } = known.value;
  const baseline = Object.hasOwn(baselines, name) ? baselines[name] : undefined;
  if (baseline === undefined) {
    const names = Object.keys(baselines);
    const near = suggest(name, names);
    const hint =
      near !== null
        ? `did you mean ${near}?`
        : names.length === 0
          ? 'none is set yet: steadyrig baseline set NAME SITTINGS'
          : `set are ${names.join(', ')}`;
    return err(plainProblem('option-invalid', `no baseline ${name}: ${hint}`, file));
  }
  const folders: string[] = [];
  for (const { id, seal } of baseline.sittings) {
    const folder = join(results, id);
    if (!existsSync(folder))
      return err(
        plainProblem(
          'folder-invalid',
          `sitting ${id} of baseline ${name} is not in ${results}: restore it, or set the baseline anew`,
          folder,
        ),
      );
    const found = await checkedSeal(folder);
    if (!found.ok) return found;
    if (found.value !== seal)
      return err(
        plainProblem(
          'folder-invalid',
          `sitting ${id} is not the one that baseline ${name} was set to: its seal is another`,
          folder,
        ),
      );
    folders.push(folder);
  }
  return ok({ baseline, folders });
}
