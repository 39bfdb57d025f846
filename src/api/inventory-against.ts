import { join } from 'node:path';
import { compareInventories } from '../compare/inventory-differences.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { InventoryDifferences } from '../model/inventory-differences.ts';
import { isMarkedInvented } from '../model/is-marked-invented.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { againstFigures } from '../model/seal-report.ts';
import { readSitting } from '../results/read-sitting.ts';
import { selectSittings } from '../results/select/select-sittings.ts';
import { verifySeal } from '../results/verify.ts';
import { inventory } from './inventory.ts';

export interface AgainstOptions {
  /** Folder of the sittings. Default `results`. */
  readonly results?: string;
  /** Mount point of the machine. Default `/`. */
  readonly root?: string;
}

export interface AgainstOutcome {
  readonly differences: InventoryDifferences;
  /** What was left out or chosen, for people. */
  readonly notes: readonly string[];
}

/**
 * What changed in this machine since the latest sitting that a selector names: a rig, an id, a folder. Codes: those of
 * `selectSittings` and of reading a result folder; `not-comparable` where that sitting was imported.
 */
export async function inventoryAgainst(
  selector: string,
  { results = 'results', root = '/' }: AgainstOptions = {},
): Promise<Result<AgainstOutcome, Problem>> {
  const selected = await selectSittings([selector], { results, suite: null });
  if (!selected.ok) return selected;
  const latest = selected.value.sides[0]?.sittings.at(-1);
  if (latest === undefined) throw new Error('internal error: a side without a sitting');
  const { findings, sealed } = await verifySeal(latest.folder);
  const [broken] = againstFigures(findings);
  if (broken !== undefined) {
    const message = `${broken.kind}: ${broken.detail}; an inventory that changed since it was sealed tells nothing`;
    return err(plainProblem('folder-invalid', message, join(latest.folder, broken.path)));
  }
  const stored = await readSitting(latest.folder);
  if (!stored.ok) return stored;
  const { sitting, inventory: before } = stored.value;
  if (sitting.imported !== null) {
    const message = `sitting ${sitting.id} was imported: it has no inventory to compare with`;
    return err(plainProblem('not-comparable', message));
  }
  const differences = compareInventories(before, await inventory(root), sitting.id);
  const open = sealed
    ? []
    : [`not sealed, so nothing tells whether it changed since: ${sitting.id}`];
  const made = isMarkedInvented(sitting.conditions.notes)
    ? [`INVENTED DATA: the notes of ${sitting.id} say so`]
    : [];
  return ok({ differences, notes: [...selected.value.notes, ...open, ...made] });
}
