import type { Campaign } from '../../model/campaign.ts';
import type { CampaignEffort } from '../../model/design.ts';

/** What one sitting of the suite takes. */
export interface SittingTime {
  readonly seconds: number;
  readonly basis: CampaignEffort['basis'];
}

/**
 * What measuring the campaign takes. Each rig is built `assemblies` times, and the baseline once more for one sitting where the
 * campaign returns to it; every building but the first is a swap.
 */
export function effortOf(campaign: Campaign, sitting: SittingTime): CampaignEffort {
  const { rigs, assemblies, returnToBaseline, swapSeconds } = campaign;
  const back = returnToBaseline && rigs.length > 1 ? 1 : 0;
  const sittings = rigs.length * campaign.sittings + back;
  // A lone rig that is built again is taken apart all the same.
  const swaps = rigs.length * assemblies + back - 1;
  return {
    rigs: rigs.length,
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
