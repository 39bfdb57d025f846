import type { SittingFigures } from '../../model/comparison-request.ts';
import type { HistoryMark, MarkedChange } from '../../model/history.ts';
import { findDifferences } from '../differences.ts';
import { factTitle } from '../fact-title.ts';
import { gatherFacts } from '../side-facts.ts';

/** Nobody looked, or was let: that says nothing of a change. */
const unknown: ReadonlySet<string> = new Set([
  'not-permitted',
  'unreadable',
  'not recorded',
  'imported',
]);

/** What changed in inventory, tool, programs, levels, assembly and room between neighbouring sittings, in the order of time. */
export function findMarks(sittings: readonly SittingFigures[]): readonly HistoryMark[] {
  const sides = sittings.map((sitting) => {
    const side = { label: sitting.rig, sittings: [sitting] };
    return { side, facts: gatherFacts(side) };
  });
  return sittings.flatMap((sitting, place) => {
    const [before, own, earlier] = [sides[place - 1], sides[place], sittings[place - 1]];
    if (before === undefined || own === undefined || earlier === undefined) return [];
    const changes = [
      ...assemblyChange(earlier, sitting),
      ...findDifferences(before, own)
        .filter(({ absent }) => absent === null || !unknown.has(absent))
        .map(({ path, from, to }) => ({ path, title: factTitle(path), from, to })),
    ];
    return changes.length === 0 ? [] : [{ place, changes }];
  });
}

function assemblyChange(one: SittingFigures, other: SittingFigures): readonly MarkedChange[] {
  if (one.assembly === null || other.assembly === null || one.assembly === other.assembly)
    return [];
  const [from, to] = [String(one.assembly), String(other.assembly)];
  return [{ path: 'assembly', title: 'assembly, rebuilt', from, to }];
}
