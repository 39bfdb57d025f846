import { seededRandom, shuffled } from '../lib/random.ts';
import type { Campaign } from '../model/campaign.ts';

/** A rig as it is built once, with the sittings that are measured before it is taken apart again. */
export interface Visit {
  readonly rig: string;
  /** The baseline measured again at the end. */
  readonly isReturn: boolean;
  readonly sittings: number;
  /** Sittings of the rig up to the end of this visit; of the return, its own. */
  readonly upTo: number;
}

/**
 * The order in which rigs are built: as many passes as there are assemblies, each with the baseline first and the others in
 * an order drawn for it; the baseline once more at the end where that is wanted, with as many sittings as its first visit. No rig is
 * built twice in a row but for a baseline without others.
 */
export function campaignSchedule(
  campaign: Pick<
    Campaign,
    'baseline' | 'rigs' | 'sittings' | 'assemblies' | 'returnToBaseline' | 'seed'
  >,
): readonly Visit[] {
  const { baseline, sittings, returnToBaseline } = campaign;
  const others = campaign.rigs.map(({ label }) => label).filter((label) => label !== baseline);
  const random = seededRandom(campaign.seed);
  const visits: Visit[] = [];
  const sizes = visitSizes(sittings, campaign.assemblies);
  let upTo = 0;
  for (const size of sizes) {
    upTo += size;
    for (const rig of [baseline, ...shuffled(others, random)]) {
      visits.push({ rig, isReturn: false, sittings: size, upTo });
    }
  }
  const [first = sittings] = sizes;
  if (returnToBaseline && others.length > 0) {
    visits.push({ rig: baseline, isReturn: true, sittings: first, upTo: first });
  }
  return visits;
}

/** Sittings of each assembly, as equal as can be, the larger ones first; none is empty. */
function visitSizes(sittings: number, assemblies: number): readonly number[] {
  const count = Math.max(1, Math.min(sittings, assemblies));
  return Array.from(
    { length: count },
    (_, at) => Math.floor(sittings / count) + (at < sittings % count ? 1 : 0),
  );
}
