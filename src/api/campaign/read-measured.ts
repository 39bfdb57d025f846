import { err, ok, type Result } from '../../lib/result.ts';
import type { Campaign } from '../../model/campaign.ts';
import type { Problem } from '../../model/problem.ts';
import { isFinished } from '../../model/sitting.ts';
import type { SittingHeader } from '../../model/sitting-entry.ts';
import type { Suite } from '../../model/suite.ts';
import type { IndexPlace } from '../../results/index/index-place.ts';
import { mayBeOfRig } from '../../results/layout.ts';
import { againNote, unfinishedNote } from '../../results/select/select-sittings.ts';
import { openShelf } from '../../results/select/sitting-header.ts';
import { type ChosenSittings, readSelection, type SidesRead } from '../compare/read-selection.ts';
import { openCampaign } from '../open-campaign.ts';

export interface MeasuredOptions {
  /** Folder of the sittings. Default `results`. */
  readonly results?: string;
  /** Compare sealed sittings with their seals first. Default true. */
  readonly verify?: boolean;
  /** Where what was found in sealed sittings is kept for later calls. Default null: nowhere, all is read each time. */
  readonly index?: IndexPlace | null;
}

/** `rigs` are all of the campaign, with their finished sittings of its suite: some may have none. */
export interface Measured extends SidesRead {
  readonly campaign: Campaign;
  readonly suite: Suite;
}

/** A campaign with the figures that its rigs have. Codes: those of `openCampaign` and of `readSelection`. */
export async function readMeasured(
  path: string,
  { results = 'results', verify = true, index = null }: MeasuredOptions,
): Promise<Result<Measured, readonly Problem[]>> {
  const opened = await openCampaign(path);
  if (!opened.ok) return opened;
  const { campaign } = opened.value;
  const { suite } = opened.value.suite;
  const shelf = await openShelf(results, index);
  const labels = campaign.rigs.map(({ label }) => label);
  const headers = await shelf.read((name) => labels.some((label) => mayBeOfRig(name, label)));
  if (!headers.ok) return err([headers.error]);
  const own = headers.value.filter(
    ({ rig, digest }) => labels.includes(rig) && digest === suite.digest,
  );
  const read = await readSelection(chooseMeasured(labels, own), { results, verify, index });
  return read.ok ? ok({ ...read.value, campaign, suite }) : read;
}

function chooseMeasured(labels: readonly string[], own: readonly SittingHeader[]): ChosenSittings {
  const counting = own.filter(({ isAgain, state }) => !isAgain && isFinished(state));
  return {
    sides: labels.map((label) => ({
      label,
      sittings: counting.filter(({ rig }) => rig === label),
    })),
    notes: own.flatMap((header) => {
      if (header.isAgain) return [againNote(header.id)];
      return isFinished(header.state) ? [] : [unfinishedNote(header)];
    }),
  };
}
