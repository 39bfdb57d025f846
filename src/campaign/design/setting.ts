import type { Campaign, CampaignRig } from '../../model/campaign.ts';
import type { Addition } from '../../model/design.ts';
import { type SittingTime, secondsOfRigs } from './effort.ts';
import { findAddition } from './find-addition.ts';
import { type Geometry, geometryOf } from './geometry.ts';
import type { StudyRow } from './sight.ts';
import { additionText } from './wording.ts';

/** What is known beside the campaign itself. */
export interface DesignFacts {
  /** Id of the suite. */
  readonly suite: string;
  readonly sitting: SittingTime;
  /** Of each workload's first metric; null without a precision study of the suite. */
  readonly study: {
    readonly rig: string;
    readonly at: string;
    readonly sittings: number;
    readonly rows: readonly StudyRow[];
  } | null;
}

/** A campaign under check. */
export interface Setting {
  readonly campaign: Campaign;
  readonly facts: DesignFacts;
  readonly baseline: CampaignRig;
  readonly geometry: Geometry;
  /** The cheapest rigs to add, in words; null where none are found. See `findAddition`. */
  findAddition(
    isMet: (geometry: Geometry) => boolean,
    progress: (geometry: Geometry) => number,
  ): { readonly remedy: string; readonly addition: Addition } | null;
}

export function settingOf(campaign: Campaign, facts: DesignFacts): Setting {
  const cells = campaign.rigs.map(({ levels }) => levels);
  const baseline = campaign.rigs.find(({ label }) => label === campaign.baseline);
  if (baseline === undefined) throw new Error('internal error: a campaign without its baseline');
  return {
    campaign,
    facts,
    baseline,
    geometry: geometryOf(campaign.factors, cells),
    findAddition: (isMet, progress) => {
      const rigs = findAddition(campaign.factors, cells, isMet, progress);
      if (rigs === null) return null;
      const seconds = secondsOfRigs(rigs.length, campaign, facts.sitting);
      return { remedy: additionText(rigs, campaign.factors), addition: { rigs, seconds } };
    },
  };
}
