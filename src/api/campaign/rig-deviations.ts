import { checkExpectations } from '../../campaign/check-expectations.ts';
import type { VisibleSwap } from '../../campaign/visible-roles.ts';
import { inventoryChanges } from '../../compare/inventory-differences.ts';
import type { CampaignRig } from '../../model/campaign.ts';
import type { RigDeviation } from '../../model/campaign-progress.ts';
import type { Inventory } from '../../model/inventory.ts';
import { isDeclared } from '../../model/rules/is-declared.ts';

/** A sitting that the rig is compared with. */
export interface RigBefore {
  readonly rig: string;
  readonly levels: Readonly<Record<string, string>>;
  readonly inventory: Inventory;
  /** What was swapped since and should show. */
  readonly swaps: readonly VisibleSwap[];
}

/**
 * How a rig as it now stands differs from what its campaign expects, and from the latest of its own sittings; where it has none, from
 * the rig before it, of which what follows from the factors may differ. Expectations come first; what one covers is told once.
 * What could not be read at one of the two looks is no difference, unless it is expected: then nobody but the operator can tell.
 */
export function rigDeviations(
  rig: CampaignRig,
  now: Inventory,
  before: RigBefore | null,
): readonly RigDeviation[] {
  const expectations = checkExpectations(rig, now);
  if (before === null) return expectations;
  const told = new Set(expectations.map(({ path }) => path));
  const against = before.rig === rig.label ? 'earlier-sitting' : 'rig-before';
  const factors = against === 'rig-before' ? differingFactors(before.levels, rig.levels) : [];
  const changes = inventoryChanges(before.inventory, now)
    .filter(({ path }) => !told.has(path))
    .map(({ path, from, to }): RigDeviation => {
      const kind = isDeclared(path, factors) ? 'expected' : 'unexpected';
      return { path, from, to, kind, against };
    });
  const silent = against === 'rig-before' ? silentSwaps(before, [...expectations, ...changes]) : [];
  return [...expectations, ...changes, ...silent];
}

/** Parts that were to be swapped while no reading of theirs differs or was expected: two of a kind, or nobody swapped them. */
function silentSwaps({ swaps }: RigBefore, told: readonly RigDeviation[]): readonly RigDeviation[] {
  return swaps
    .filter(({ role }) => !told.some(({ path, to }) => to !== null && isDeclared(path, [role])))
    .map(({ role, out, in: put }) => ({
      ...{ path: role, from: out === '' ? null : out, to: put },
      ...{ kind: 'not-visible', against: 'rig-before' },
    }));
}

function differingFactors(
  before: Readonly<Record<string, string>>,
  now: Readonly<Record<string, string>>,
): readonly string[] {
  return Object.keys(now).filter((factor) => factor in before && before[factor] !== now[factor]);
}
