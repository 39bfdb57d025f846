import type { SideChange } from '../model/comparison.ts';
import { factText } from './fact-text.ts';
import { absentFact, type Fact, isAlike, rigFacts } from './rig-facts.ts';
import type { Side } from './sides.ts';

/** By path, what the sittings of a side say: each differing fact once, in the order of time. */
export type SideFacts = ReadonlyMap<string, readonly Fact[]>;

export const unrecorded: Fact = absentFact('not recorded');

/** Rooms may differ by this much before it is told: a cooldown leaves as much. Common practice, no source. */
export const ambientBandKelvin = 3;

export function gatherFacts({ sittings }: Side): SideFacts {
  const gathered = new Map<string, Fact[]>();
  for (const [at, sitting] of sittings.entries()) {
    const facts = rigFacts(sitting);
    for (const [path, fact] of facts) {
      const known = gathered.get(path);
      if (known === undefined) gathered.set(path, at === 0 ? [fact] : [unrecorded, fact]);
      else if (!known.some((one) => isAlike(path, one, fact))) known.push(fact);
    }
    if (at === 0) continue;
    for (const [path, known] of gathered) {
      if (!facts.has(path) && known.every(({ absent }) => absent === null)) known.push(unrecorded);
    }
  }
  return gathered;
}

/** What was not the same in all sittings of a side. */
export function sideChanges(side: Side, facts: SideFacts): readonly SideChange[] {
  const changes: SideChange[] = [];
  for (const [path, known] of facts) {
    if (known.length < 2) continue;
    const values = known.map((fact) =>
      factText(fact, known.find((other) => other !== fact) ?? fact),
    );
    changes.push({ label: side.label, path, values });
  }
  const room = side.sittings.flatMap(({ ambientCelsius }) => ambientCelsius ?? []);
  if (Math.max(...room) - Math.min(...room) > ambientBandKelvin) {
    const values = [Math.min(...room), Math.max(...room)].map(celsiusText);
    changes.push({ label: side.label, path: 'conditions.ambient', values });
  }
  return changes;
}

export function celsiusText(celsius: number): string {
  return `${Number(celsius.toFixed(1))} °C`;
}
