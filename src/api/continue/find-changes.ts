import { changedReadings } from '../../model/changed-readings.ts';
import type { Inventory } from '../../model/inventory.ts';
import type { RigChange } from '../../model/sitting.ts';
import type { SittingFacts } from '../sitting-facts.ts';

/** A rig as it is looked at: when its sitting began, or now. Paths of programs are scrubbed. */
export interface RigLook {
  readonly facts: SittingFacts;
  readonly inventory: Inventory;
}

/**
 * What moved in the rig since a sitting began, the boot aside; what the operator accepted on continuing earlier counts as
 * known. Programs and inputs are in it with their checksums.
 */
export function findChanges(
  before: RigLook,
  now: RigLook,
  accepted: readonly RigChange[],
): readonly RigChange[] {
  const earlier = new Map(factTexts(before.facts));
  for (const { path, to } of accepted) if (isFact(path)) earlier.set(path, to);
  const later = factTexts(now.facts);
  const facts = [...new Set([...earlier.keys(), ...later.keys()])].flatMap((path) => {
    const [from, to] = [earlier.get(path) ?? null, later.get(path) ?? null];
    return from === to ? [] : [{ path, from, to }];
  });
  const readings = accepted.filter(({ path }) => !isFact(path));
  return [...facts, ...changedReadings(before.inventory, now.inventory, readings)];
}

const factKinds = ['tool', 'meter', 'cpus', 'user', 'program', 'input'];

function isFact(path: string): boolean {
  return factKinds.includes(path.split('.')[0] ?? '');
}

function factTexts(facts: SittingFacts): ReadonlyMap<string, string | null> {
  return new Map([
    ['tool.version', facts.tool.version],
    ['meter', facts.meter?.name ?? null],
    ['cpus', facts.cpus === null ? null : String(facts.cpus)],
    ['user', facts.asOtherUser ? 'another than the agent' : 'the agent’s own'],
    ...facts.programs.map(
      ({ name, path, version, sha256 }) =>
        [`program.${name}`, `${version ?? 'no version'}, ${path}, SHA-256 ${sha256}`] as const,
    ),
    ...facts.inputs.map(
      ({ workload, name, bytes, sha256 }) =>
        [`input.${workload}.${name}`, `${bytes} bytes, SHA-256 ${sha256}`] as const,
    ),
  ]);
}
