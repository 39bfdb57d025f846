import type { RigChange } from '../../model/sitting.ts';
import type { StoredSitting } from '../../results/read-sitting.ts';
import { availableCpus } from '../../rig/available-cpus.ts';
import { privateLiterals } from '../../rig/private-literals.ts';
import type { OpenedMeter } from '../../runner/meter/open-meter.ts';
import { scrubProgram } from '../describe-sitting.ts';
import { inventory } from '../inventory.ts';
import type { ResolvedOptions } from '../options.ts';
import type { Readiness } from '../prepare-sitting.ts';
import { toolVersion } from '../version.ts';
import { findChanges } from './find-changes.ts';

/** Looks at the rig again, and tells what moved since a sitting began but for what the operator accepted meanwhile. */
export async function changesSince(
  { sitting, inventory: before }: StoredSitting,
  { programs, inputs }: Readiness,
  { root, user }: ResolvedOptions,
  { meter, why }: OpenedMeter,
): Promise<readonly RigChange[]> {
  const literals = await privateLiterals(root, user?.name);
  const facts = {
    programs: programs.map((program) => scrubProgram(program, literals)),
    inputs: inputs.map(({ path: _, ...input }) => input),
    meter: { name: meter.name, why },
    cpus: (await availableCpus(root)).count,
    asOtherUser: user !== null,
    tool: { name: 'steadyrig', version: toolVersion } as const,
  };
  const accepted = sitting.continuations.flatMap(({ changes }) => changes);
  const now = { facts, inventory: await inventory(root) };
  return findChanges({ facts: sitting, inventory: before }, now, accepted);
}
