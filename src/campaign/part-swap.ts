import type { Campaign, Part } from '../model/campaign.ts';
import type { PartSwap } from '../model/campaign-progress.ts';

/**
 * What to take out and put in to make one rig from another, as multisets: of two like modules one may stay. `from` is null where
 * nothing was built yet; then everything is put in. A rig built anew from its own parts gets those to re-seat that differ between
 * rigs of the campaign.
 */
export function partSwap(
  campaign: Pick<Campaign, 'rigs' | 'parts'>,
  from: string | null,
  to: string,
): PartSwap {
  const next = partsOf(campaign, to);
  const last = from === null ? [] : partsOf(campaign, from);
  const isAnew = from === to;
  return {
    from,
    takeOut: without(last, next).map((id) => partCalled(campaign, id)),
    putIn: without(next, last).map((id) => partCalled(campaign, id)),
    reseat: isAnew ? swappedParts(campaign, next).map((id) => partCalled(campaign, id)) : [],
  };
}

/** The first list less what the second has too, each part as often as it stands there. */
function without(parts: readonly string[], others: readonly string[]): readonly string[] {
  const left = new Map<string, number>();
  for (const id of others) left.set(id, (left.get(id) ?? 0) + 1);
  return parts.filter((id) => {
    const count = left.get(id) ?? 0;
    left.set(id, count - 1);
    return count <= 0;
  });
}

/** Those of a rig that some other rig of the campaign lacks; all of them where no rig differs in any. */
function swappedParts({ rigs }: Pick<Campaign, 'rigs'>, own: readonly string[]): readonly string[] {
  const varied = own.filter((id) => rigs.some(({ parts }) => !parts.includes(id)));
  return varied.length === 0 ? own : varied;
}

function partsOf({ rigs }: Pick<Campaign, 'rigs'>, label: string): readonly string[] {
  const rig = rigs.find((one) => one.label === label);
  if (rig === undefined) throw new Error(`internal error: no rig ${label} in the campaign`);
  return rig.parts;
}

function partCalled({ parts }: Pick<Campaign, 'parts'>, id: string): Part {
  const part = parts.find((one) => one.id === id);
  if (part === undefined) throw new Error(`internal error: no part ${id} in the campaign`);
  return part;
}
