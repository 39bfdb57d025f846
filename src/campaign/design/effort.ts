import type { Campaign } from '../../model/campaign.ts';
import type { CampaignEffort } from '../../model/design.ts';
import { campaignSchedule } from '../schedule.ts';

/** What one sitting of the suite takes. */
export interface SittingTime {
  readonly seconds: number;
  readonly basis: CampaignEffort['basis'];
}

/** What measuring the campaign takes by its schedule; every building of a rig but the first is a swap. */
export function effortOf(campaign: Campaign, sitting: SittingTime): CampaignEffort {
  const visits = campaignSchedule(campaign);
  const { swapSeconds } = campaign;
  const sittings = visits.reduce((sum, visit) => sum + visit.sittings, 0);
  const swaps = visits.length - 1;
  return {
    rigs: campaign.rigs.length,
    sittings,
    swaps,
    seconds: sittings * sitting.seconds + swaps * swapSeconds,
    sittingSeconds: sitting.seconds,
    basis: sitting.basis,
    swapSeconds,
  };
}

/** What `count` more rigs would take. */
export function secondsOfRigs(count: number, campaign: Campaign, sitting: SittingTime): number {
  const { sittings, assemblies, swapSeconds } = campaign;
  return count * (sittings * sitting.seconds + assemblies * swapSeconds);
}
