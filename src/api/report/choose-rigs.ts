import { ok, type Result } from '../../lib/result.ts';
import type { Campaign } from '../../model/campaign.ts';
import type { ComparedRig } from '../../model/comparison-request.ts';
import type { Problem } from '../../model/problem.ts';
import type { IndexPlace } from '../../results/index/index-place.ts';
import { readMeasured } from '../campaign/read-measured.ts';
import type { SidesRead } from '../compare/read-selection.ts';
import { readSides } from '../compare/read-sides.ts';
import { isCampaign } from '../is-campaign.ts';

export interface RigChoice {
  /** A campaign file alone, or selectors as in `compareSittings`. */
  readonly rigs: readonly string[];
  readonly results: string;
  readonly suite?: string;
  readonly verify: boolean;
  readonly index: IndexPlace | null;
}

/** The rigs that a report is about, with what was read of them. */
export interface ChosenRigs extends SidesRead {
  /** Null where rigs were named by hand. */
  readonly campaign: Campaign | null;
}

/** Rigs of the campaign without a finished sitting are left out, with a note. Codes: those of `readMeasured` and `readSides`. */
export async function chooseRigs(
  choice: RigChoice,
): Promise<Result<ChosenRigs, readonly Problem[]>> {
  const [first = ''] = choice.rigs;
  // A name with this ending is meant as a file, also where it is not there.
  const isFile = /\.ya?ml$/i.test(first) || (await isCampaign(first));
  if (choice.rigs.length > 1 || !isFile) {
    const read = await readSides(choice.rigs, choice);
    return read.ok ? ok({ ...read.value, campaign: null }) : read;
  }
  const read = await readMeasured(first, choice);
  if (!read.ok) return read;
  const { campaign, rigs, notes } = read.value;
  const open = rigs.filter(({ sittings }) => sittings.length === 0).map(({ label }) => label);
  const told = open.length === 0 ? [] : [`without a finished sitting so far: ${open.join(', ')}`];
  const measured = rigs.filter(({ sittings }) => sittings.length > 0);
  return ok({
    ...read.value,
    campaign,
    rigs: baselineFirst(measured, campaign.baseline),
    notes: [...notes, ...told],
  });
}

function baselineFirst(rigs: readonly ComparedRig[], baseline: string): readonly ComparedRig[] {
  return rigs.toSorted((a, b) => Number(b.label === baseline) - Number(a.label === baseline));
}
