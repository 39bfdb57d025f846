import type { Campaign } from '../model/campaign.ts';
import type {
  CampaignProgress,
  CampaignSitting,
  OtherSitting,
  ProgressRow,
  SittingCell,
} from '../model/campaign-progress.ts';
import { findOddities } from './find-oddities.ts';
import { campaignSchedule } from './schedule.ts';

/**
 * Where a campaign stands, from its sittings alone: those of its rigs whose suite has this digest. Order and copies among the
 * sittings make no difference. The first sittings of the baseline are its own, as many as there are to be; of the others those after
 * the last sitting of any other rig are the return.
 */
export function campaignProgress(
  campaign: Campaign,
  digest: string,
  sittings: readonly CampaignSitting[],
): CampaignProgress {
  const labels = new Set(campaign.rigs.map(({ label }) => label));
  const ofRigs = inOrder(sittings).filter(({ rig }) => labels.has(rig));
  const counted = ofRigs.filter((sitting) => sitting.digest === digest && !sitting.isAgain);
  const newest = ofRigs.at(-1);
  const toCell = (sitting: CampaignSitting): SittingCell =>
    cellOf(campaign, sitting, sitting.id === newest?.id);
  const returning = splitReturn(campaign, counted);
  const rows = campaign.rigs.map(({ label }) => {
    const own = counted.filter((one) => one.rig === label && !returning.has(one.id));
    return row(label, false, campaign.sittings, own.map(toCell));
  });
  const visit = campaignSchedule(campaign).find(({ isReturn }) => isReturn);
  if (visit !== undefined) {
    const own = counted.filter(({ id }) => returning.has(id));
    rows.push(row(visit.rig, true, visit.sittings, own.map(toCell)));
  }
  return {
    campaign: campaign.id,
    digest,
    rows,
    others: ofRigs.flatMap((sitting) => otherSitting(sitting, digest)),
    last: newest === undefined ? null : { rig: newest.rig, sitting: newest.id },
  };
}

/** Oldest first, each once. */
function inOrder(sittings: readonly CampaignSitting[]): readonly CampaignSitting[] {
  const byId = new Map(sittings.map((sitting) => [sitting.id, sitting]));
  return [...byId.values()].sort(
    (one, other) =>
      Date.parse(one.startedAt) - Date.parse(other.startedAt) || (one.id < other.id ? -1 : 1),
  );
}

/** Ids of the sittings that are the baseline measured again. */
function splitReturn(
  { baseline, sittings, returnToBaseline }: Campaign,
  counted: readonly CampaignSitting[],
): ReadonlySet<string> {
  if (!returnToBaseline) return new Set();
  const lastOther = counted.findLastIndex(({ rig }) => rig !== baseline);
  if (lastOther === -1) return new Set();
  const after = new Set(counted.slice(lastOther + 1).map(({ id }) => id));
  const beyond = counted.filter(({ rig }) => rig === baseline).slice(sittings);
  return new Set(beyond.filter(({ id }) => after.has(id)).map(({ id }) => id));
}

function row(
  rig: string,
  isReturn: boolean,
  wanted: number,
  own: readonly SittingCell[],
): ProgressRow {
  const counted = own.filter(({ state, isCurrent }) => state !== 'open' || isCurrent).length;
  const toDo = Array.from({ length: Math.max(0, wanted - counted) }, () => ({
    state: 'to-do' as const,
  }));
  return { rig, isReturn, wanted, counted, cells: [...own, ...toDo] };
}

function cellOf(campaign: Campaign, sitting: CampaignSitting, isNewest: boolean): SittingCell {
  const { id, assembly, state } = sitting;
  const isWaiting = state === 'waiting';
  const common = { sitting: id, assembly, isWaiting };
  if (state === 'open' || state === 'interrupted' || isWaiting) {
    return { ...common, state: 'open', oddities: [], isCurrent: isNewest };
  }
  const oddities = findOddities(campaign, sitting);
  return { ...common, state: oddities.length === 0 ? 'done' : 'odd', oddities, isCurrent: false };
}

function otherSitting(
  { id, rig, digest, isAgain }: CampaignSitting,
  expected: string,
): readonly OtherSitting[] {
  if (isAgain) return [{ sitting: id, rig, why: 'again' }];
  return digest === expected ? [] : [{ sitting: id, rig, why: 'other-suite' }];
}
