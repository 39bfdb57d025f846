import type { Difference } from '../model/comparison.ts';
import { byTelling } from '../model/rules/by-telling.ts';
import { isDeclared } from '../model/rules/is-declared.ts';
import { factText } from './fact-text.ts';
import { type Fact, isAlike } from './rig-facts.ts';
import { ambientBandKelvin, celsiusText, type SideFacts, unrecorded } from './side-facts.ts';
import type { Side } from './sides.ts';

/**
 * What differs between the sides beside what is measured, declared first, of either kind the most telling first (`model/rules`). A path that is absent on both sides is no
 * difference; one that is absent on a single side is, since nobody knows what stands there.
 */
export function findDifferences(
  { side: baseline, facts: from }: { readonly side: Side; readonly facts: SideFacts },
  { side: candidate, facts: to }: { readonly side: Side; readonly facts: SideFacts },
): readonly Difference[] {
  const found: Difference[] = [];
  const factors = differingFactors(from, to);
  const add = (path: string, difference: Pick<Difference, 'from' | 'to' | 'absent'>): void => {
    const declared = isDeclared(path, factors);
    found.push({ candidate: candidate.label, path, ...difference, declared });
  };
  for (const path of new Set([...from.keys(), ...to.keys()])) {
    const [own, other] = [from.get(path) ?? [unrecorded], to.get(path) ?? [unrecorded]];
    if (sameFacts(path, own, other) || withoutInventory(path, from, to)) continue;
    add(path, {
      from: sideText(own, other),
      to: sideText(other, own),
      absent: [...own, ...other].find(({ absent }) => absent !== null)?.absent ?? null,
    });
  }
  const [here, there] = [meanAmbient(baseline), meanAmbient(candidate)];
  if (here !== null && there !== null && Math.abs(here - there) > ambientBandKelvin) {
    add('conditions.ambient', { from: celsiusText(here), to: celsiusText(there), absent: null });
  }
  return [true, false].flatMap((declared) =>
    byTelling(found.filter((one) => one.declared === declared)).flatMap(
      ({ differences }) => differences,
    ),
  );
}

/** Factors whose levels both sides state, and that differ: a level that one side lacks declares nothing. */
function differingFactors(from: SideFacts, to: SideFacts): readonly string[] {
  const isStated = (facts: readonly Fact[] | undefined): facts is readonly Fact[] =>
    facts?.every(({ absent }) => absent === null) === true;
  return [...from].flatMap(([path, own]) => {
    const other = to.get(path);
    if (!path.startsWith('levels.') || !isStated(own) || !isStated(other)) return [];
    return sameFacts(path, own, other) ? [] : [path.slice('levels.'.length)];
  });
}

function sameFacts(path: string, own: readonly Fact[], other: readonly Fact[]): boolean {
  if (own.length !== other.length) return false;
  return own.every((fact) => other.some((one) => isAlike(path, fact, one)));
}

/** One side has no inventory at all: that is told once. */
function withoutInventory(path: string, from: SideFacts, to: SideFacts): boolean {
  const lacks = [from, to].some((facts) => facts.get('inventory')?.[0]?.absent !== null);
  const ofInventory = !/^(levels|suite|tool|meter|program|inventory)(\.|$)/.test(path);
  return lacks && ofInventory;
}

function sideText(own: readonly Fact[], other: readonly Fact[]): string | null {
  const texts = own.flatMap((fact) => factText(fact, other[0] ?? unrecorded) ?? []);
  return texts.length === 0 ? null : texts.join(' or ');
}

function meanAmbient({ sittings }: Side): number | null {
  const known = sittings.flatMap(({ ambientCelsius }) => ambientCelsius ?? []);
  return known.length === 0
    ? null
    : known.reduce((sum, celsius) => sum + celsius, 0) / known.length;
}
