import type { Campaign, Part } from '../model/campaign.ts';

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
  return parts.filter(({ id, role }) => own.has(id) && !visible.has(role.toLowerCase()));
}
