import type { Campaign, CampaignRig } from '../../model/campaign.ts';

/** Roles in which two rigs have other parts, of those that may affect performance. */
export function rolesThatDiffer(
  one: CampaignRig,
  other: CampaignRig,
  { parts }: Pick<Campaign, 'parts'>,
): readonly string[] {
  const known = new Map(parts.map((part) => [part.id, part]));
  const byRole = (rig: CampaignRig): ReadonlyMap<string, string> => {
    const found = new Map<string, string>();
    for (const id of [...rig.parts].sort()) {
      const part = known.get(id);
      if (part === undefined || part.affects === 'nothing') continue;
      found.set(part.role, `${found.get(part.role) ?? ''} ${id}`);
    }
    return found;
  };
  const [ours, theirs] = [byRole(one), byRole(other)];
  const roles = new Set([...ours.keys(), ...theirs.keys()]);
  return [...roles].filter((role) => ours.get(role) !== theirs.get(role));
}
