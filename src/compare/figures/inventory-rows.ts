import type { Difference } from '../../model/comparison.ts';
import type { ComparedRig } from '../../model/comparison-request.ts';
import type { InventoryRow } from '../../model/report.ts';
import { byTelling } from '../../model/rules/by-telling.ts';
import { partTitles } from '../../model/rules/parts.ts';
import { factText } from '../fact-text.ts';
import { factTitle } from '../fact-title.ts';
import { type Fact, isAlike } from '../rig-facts.ts';
import { gatherFacts, type SideFacts, unrecorded } from '../side-facts.ts';

/** Readings that tell a reader little and fill a table. */
const leftOut = new Set(['inventory', 'suite.digest', 'meter']);

/**
 * What is in every rig, a row for each reading, part by part, the most telling first; `differs` says where rigs are not alike, or one
 * was not the same in all its sittings. A rig without any inventory (imported figures) makes no reading of it differ.
 */
export function inventoryRows(
  rigs: readonly ComparedRig[],
  differences: readonly Difference[],
): readonly InventoryRow[] {
  const facts = rigs.map(gatherFacts);
  const paths = [...new Set(facts.flatMap((own) => [...own.keys()]))];
  const undeclared = new Set(
    differences.filter(({ declared }) => !declared).map(({ path }) => path),
  );
  const rows = paths
    .filter((path) => !leftOut.has(path))
    .map((path) => ({ path, ...row(path, facts, !undeclared.has(path)) }))
    .filter(({ differs, values }) => differs || values.some((value) => value !== null));
  return byTelling(rows).flatMap(({ part, differences }) =>
    differences.map(({ path, values, differs, declared }) => ({
      path,
      title: factTitle(path),
      part: partTitles[part],
      values,
      differs,
      declared,
    })),
  );
}

function row(
  path: string,
  facts: readonly SideFacts[],
  isDeclared: boolean,
): Pick<InventoryRow, 'values' | 'differs' | 'declared'> {
  const own = facts.map((side) => side.get(path) ?? [unrecorded]);
  const told = own.filter((_, at) => tells(facts[at], path));
  const [first = []] = told;
  const differs = told.some(
    (side) =>
      side.length > 1 || !side.every((fact) => first.some((one) => isAlike(path, one, fact))),
  );
  return {
    values: own.map((side) => valueText(side, own)),
    differs,
    declared: differs && isDeclared && told.every((side) => side.length === 1),
  };
}

/** Levels and versions stand beside the inventory. */
function tells(facts: SideFacts | undefined, path: string): boolean {
  const isBeside = /^(levels|tool|program)\./.test(path);
  return isBeside || facts?.get('inventory')?.some(({ absent }) => absent === null) === true;
}

/** Beside the first rig that says something else, so that rounding hides no difference. */
function valueText(side: readonly Fact[], all: readonly (readonly Fact[])[]): string | null {
  const other = all.flat().find(({ exact }) => exact !== side[0]?.exact) ?? unrecorded;
  const texts = side.flatMap((fact) => factText(fact, other) ?? []);
  return texts.length === 0 ? null : texts.join(' or ');
}
