import type { Fact, Part } from './rig-facts.ts';

/** More groups of a list than these are shown only where they differ. */
const mostGroups = 3;

/** A fact for people, beside what it is compared with: long lists show only what the other lacks. Null: absent. */
export function factText(fact: Fact, other: Fact): string | null {
  if (fact.absent !== null) return null;
  const all = grouped(fact.parts);
  if (all.length <= mostGroups) return listText(distinct(all, grouped(other.parts)));
  const own = lessThan(fact.parts, other.parts);
  return own.length === 0 ? 'nothing else' : listText(grouped(own));
}

interface Group extends Part {
  readonly count: number;
}

function grouped(parts: readonly Part[]): readonly Group[] {
  const groups = new Map<string, Group>();
  for (const part of parts) {
    const count = (groups.get(part.exact)?.count ?? 0) + 1;
    groups.set(part.exact, { ...part, count });
  }
  return [...groups.values()];
}

/** Where rounding makes different values look alike, the exact ones are shown. */
function distinct(groups: readonly Group[], others: readonly Group[]): readonly Group[] {
  return groups.map((group) => {
    const alike = others.some(({ shown, exact }) => shown === group.shown && exact !== group.exact);
    return alike ? { ...group, shown: group.exact } : group;
  });
}

function listText(groups: readonly Group[]): string {
  if (groups.length === 0) return 'none';
  const shown = groups
    .slice(0, mostGroups)
    .map((group) => (group.count > 1 ? `${group.count} x ${group.shown}` : group.shown));
  const more = groups.length - shown.length;
  return more === 0 ? shown.join('; ') : `${shown.join('; ')}; and ${more} more`;
}

/** Parts beyond those that the others have too. */
function lessThan(parts: readonly Part[], others: readonly Part[]): readonly Part[] {
  const left = new Map(grouped(others).map(({ exact, count }) => [exact, count]));
  return parts.filter(({ exact }) => {
    const count = left.get(exact) ?? 0;
    left.set(exact, count - 1);
    return count <= 0;
  });
}
