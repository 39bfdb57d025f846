import { invisibleParts, visibleSwaps } from '../../campaign/visible-roles.ts';
import type { Part } from '../../model/campaign.ts';
import type { MeasureStep, RigDeviation } from '../../model/campaign-progress.ts';
import type { AcceptedChange } from '../../model/sitting.ts';
import type { StoredSitting } from '../../results/read-sitting.ts';
import type { FollowedCampaign } from '../follow-campaign.ts';
import { inventory } from '../inventory.ts';
import { rigDeviations } from './rig-deviations.ts';

/** What is found about a rig before it is measured for a campaign. */
export interface LookedAtRig {
  /** Id of the sitting that it is compared with; null where there is none. */
  readonly before: string | null;
  readonly deviations: readonly RigDeviation[];
  /** Unexpected, and accepted in an earlier sitting of the rig as it is now. */
  readonly acceptedBefore: readonly AcceptedChange[];
  /** Unexpected, and never accepted. */
  readonly unexpected: readonly RigDeviation[];
  /** Parts that no reading shows: only the operator can vouch for them. */
  readonly invisible: readonly Part[];
}

/** Takes the inventory, and compares it with what the campaign and the sittings before lead to expect. */
export async function lookAtCampaignRig(
  { campaign, sittings }: Pick<FollowedCampaign, 'campaign' | 'sittings'>,
  { rig: label }: Pick<MeasureStep, 'rig'>,
  root = '/',
): Promise<LookedAtRig> {
  const rig = campaign.rigs.find((one) => one.label === label);
  if (rig === undefined) throw new Error(`internal error: no rig ${label} in the campaign`);
  const measured = sittings.filter(({ sitting }) => sitting.imported === null);
  const own = measured.filter(({ sitting }) => sitting.rig === label);
  const before = own.at(-1) ?? measured.at(-1) ?? null;
  const deviations = rigDeviations(
    rig,
    await inventory(root),
    before === null
      ? null
      : {
          ...before.sitting,
          inventory: before.inventory,
          swaps: visibleSwaps(campaign, before.sitting.rig, label),
        },
  );
  const unexpected = deviations.filter(({ kind }) => kind === 'unexpected');
  const known = unexpected.map((one) => ({ one, accepted: acceptedIn(own, one) }));
  return {
    before: before?.sitting.id ?? null,
    deviations,
    acceptedBefore: known.flatMap(({ accepted }) => accepted ?? []),
    unexpected: known.flatMap(({ one, accepted }) => (accepted === null ? [one] : [])),
    invisible: invisibleParts(campaign, label),
  };
}

function acceptedIn(
  own: readonly StoredSitting[],
  { path, from, to }: RigDeviation,
): AcceptedChange | null {
  const accepted = own.flatMap(({ sitting }) => sitting.campaign?.accepted ?? []);
  return (
    accepted.findLast((one) => one.path === path && one.from === from && one.to === to) ?? null
  );
}
