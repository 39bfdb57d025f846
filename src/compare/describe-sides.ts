import type { Comparison, ComparisonSide } from '../model/comparison.ts';
import { findDifferences } from './differences.ts';
import { gatherFacts, sideChanges } from './side-facts.ts';
import type { Side, Sides } from './sides.ts';

/** How every candidate differs from the baseline, and what was not the same in all sittings of a side. */
export function tellDifferences(sides: Sides): Pick<Comparison, 'differences' | 'changes'> {
  const withFacts = (side: Side): { side: Side; facts: ReturnType<typeof gatherFacts> } => ({
    side,
    facts: gatherFacts(side),
  });
  const baseline = withFacts(sides.baseline);
  const candidates = sides.candidates.filter(({ sittings }) => sittings.length > 0).map(withFacts);
  return {
    differences: candidates.flatMap((candidate) => findDifferences(baseline, candidate)),
    changes: [baseline, ...candidates].flatMap(({ side, facts }) => sideChanges(side, facts)),
  };
}

/** Levels are those of the first sitting. */
export function describeSide({ label, sittings }: Side): ComparisonSide {
  return {
    label,
    sittings: sittings.map(({ id }) => id),
    levels: sittings[0]?.levels ?? {},
  };
}
