import { isMarkedInvented } from '../../model/is-marked-invented.ts';
import type { RigChange } from '../../model/sitting.ts';
import { steadyReadings } from '../../model/steady-readings.ts';
import type { StoredSitting } from '../../results/read-sitting.ts';
import { findChanges } from '../continue/find-changes.ts';

/** What moved in a rig between two of its sittings, or within one of them. */
export interface RigMove extends RigChange {
  /** Ids of the sittings before and after; equal where it moved within one. */
  readonly before: string;
  readonly after: string;
}

/** Everything that moved from each sitting to the next, boots aside; `sittings` in order of time. */
export function findMoves(sittings: readonly StoredSitting[]): readonly RigMove[] {
  return sittings.flatMap((now, at) => {
    const within = now.sitting.continuations
      .flatMap(({ changes }) => changes)
      .map((change) => move(now, now, change));
    const before = sittings[at - 1];
    return before === undefined ? within : [...movesBetween(before, now), ...within];
  });
}

function movesBetween(before: StoredSitting, now: StoredSitting): readonly RigMove[] {
  const accepted = before.sitting.continuations.flatMap(({ changes }) => changes);
  const changes = findChanges(
    { facts: before.sitting, inventory: before.inventory },
    { facts: now.sitting, inventory: now.inventory },
    accepted,
  );
  return [...levelChanges(before, now), ...changes].map((change) => move(before, now, change));
}

function levelChanges(before: StoredSitting, now: StoredSitting): readonly RigChange[] {
  const [earlier, later] = [before.sitting.levels, now.sitting.levels];
  return [...new Set([...Object.keys(earlier), ...Object.keys(later)])].flatMap((factor) => {
    const [from, to] = [earlier[factor] ?? null, later[factor] ?? null];
    return from === to ? [] : [{ path: `level.${factor}`, from, to }];
  });
}

function move(before: StoredSitting, now: StoredSitting, change: RigChange): RigMove {
  return { ...change, before: before.sitting.id, after: now.sitting.id };
}

/** How many of the latest sittings nothing moved between; at least 1. */
export function latestUnmoved(
  sittings: readonly StoredSitting[],
  moves: readonly RigMove[],
): number {
  const last = sittings.findLastIndex(({ sitting }) =>
    moves.some(({ after }) => after === sitting.id),
  );
  return sittings.length - Math.max(0, last);
}

/** What the inventories leave open about the rig being unchanged, as sentences. */
export function findUnchecked(sittings: readonly StoredSitting[]): readonly string[] {
  const imported = sittings.filter(({ sitting }) => sitting.imported !== null).length;
  const failed = new Set(
    sittings.flatMap(({ inventory }) =>
      inventory.collectors.filter(({ failure }) => failure !== null).map(({ name }) => name),
    ),
  );
  const unread = new Set(
    sittings.flatMap(({ inventory }) =>
      [...steadyReadings(inventory)].filter(([, { known }]) => !known).map(([path]) => path),
    ),
  );
  const found: string[] = [];
  if (sittings.some(({ sitting }) => isMarkedInvented(sitting.conditions.notes))) {
    found.push('the figures are invented, as the notes of the sittings say');
  }
  if (imported > 0) {
    found.push(
      `${imported} of ${sittings.length} sittings are imported, without an inventory: nobody can check that the rig stayed the same`,
    );
  }
  if (failed.size > 0)
    found.push(`not looked at in every sitting: ${[...failed].sort().join(', ')}`);
  if (unread.size > 0) {
    const some = [...unread].slice(0, 3).join(', ');
    const more = unread.size > 3 ? ` and ${unread.size - 3} more` : '';
    found.push(`could not be read in every sitting: ${some}${more}`);
  }
  return found;
}
