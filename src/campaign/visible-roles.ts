import type { Campaign, Part } from '../model/campaign.ts';
import { partSwap } from './part-swap.ts';

/** Roles of parts that an inventory names; of all others (cooler, case, power supply, paste, fans) no reading tells. */
const visible: ReadonlySet<string> = new Set([
  ...['board', 'mainboard', 'motherboard'],
  ...['processor', 'cpu'],
  ...['memory', 'ram'],
  ...['graphics', 'gpu'],
  ...['storage', 'disk', 'ssd', 'drive'],
]);

/** Parts of a rig that only the operator can vouch for, each once. */
export function invisibleParts(
  { rigs, parts }: Pick<Campaign, 'rigs' | 'parts'>,
  label: string,
): readonly Part[] {
  const own = new Set(rigs.find((rig) => rig.label === label)?.parts);
  return parts.filter(({ id, role }) => own.has(id) && !isVisible(role));
}

/** A part that an inventory should show to be another one. */
export interface VisibleSwap {
  readonly role: string;
  readonly out: string;
  readonly in: string;
}

/** Roles of which one rig has other parts than the other, names told; of roles that no inventory names, none. */
export function visibleSwaps(
  campaign: Pick<Campaign, 'rigs' | 'parts'>,
  from: string,
  to: string,
): readonly VisibleSwap[] {
  if (!campaign.rigs.some(({ label }) => label === from)) return [];
  const { takeOut, putIn } = partSwap(campaign, from, to);
  const roles = new Set(putIn.map(({ role }) => role).filter((role) => isVisible(role)));
  const namesOf = (parts: readonly Part[], wanted: string): string =>
    parts.flatMap(({ role, name }) => (role === wanted ? [name] : [])).join(', ');
  return [...roles].map((role) => ({
    role,
    out: namesOf(takeOut, role),
    in: namesOf(putIn, role),
  }));
}

function isVisible(role: string): boolean {
  return visible.has(role.toLowerCase());
}
