import type { RigChange } from '../../model/sitting.ts';
import type { StoredSitting } from '../../results/read-sitting.ts';
import { privateLiterals } from '../../rig/private-literals.ts';
import type { OpenedMeter } from '../../runner/meter/open-meter.ts';
import { inventory } from '../inventory.ts';
import type { ResolvedOptions } from '../options.ts';
import type { Readiness } from '../prepare-sitting.ts';
import { sittingFacts } from '../sitting-facts.ts';
import { findChanges } from './find-changes.ts';

/** Looks at the rig again, and tells what moved since a sitting began but for what the operator accepted meanwhile. */
export async function changesSince(
  { sitting, inventory: before }: StoredSitting,
  ready: Readiness,
  options: ResolvedOptions,
  opened: OpenedMeter,
): Promise<readonly RigChange[]> {
  const { root, user } = options;
  const literals = await privateLiterals(root, user?.name);
  const facts = await sittingFacts(ready, options, opened, literals);
  const accepted = sitting.continuations.flatMap(({ changes }) => changes);
  const now = { facts, inventory: await inventory(root) };
  return findChanges({ facts: sitting, inventory: before }, now, accepted);
}
