import { availableParallelism } from 'node:os';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Campaign } from '../../model/campaign.ts';
import type { ComparedRig } from '../../model/comparison-request.ts';
import type { PrecisionStudy } from '../../model/precision.ts';
import type { Problem } from '../../model/problem.ts';
import { isFinished } from '../../model/sitting.ts';
import { mayBeOfRig } from '../../results/layout.ts';
import { readExclusions } from '../../results/read-exclusions.ts';
import { readStudies } from '../../results/read-studies.ts';
import { openShelf } from '../../results/select/sitting-header.ts';
import { readAllFigures } from '../compare/read-all-figures.ts';
import { openCampaign } from '../open-campaign.ts';

export interface MeasuredOptions {
  /** Folder of the sittings. Default `results`. */
  readonly results?: string;
  /** Compare sealed sittings with their seals first. Default true. */
  readonly verify?: boolean;
}

export interface Measured {
  readonly campaign: Campaign;
  /** All rigs of the campaign, with their finished sittings of its suite: some may have none. */
  readonly measured: readonly ComparedRig[];
  readonly studies: readonly PrecisionStudy[];
}

/** A campaign with the figures that its rigs have. Codes: those of `openCampaign` and of reading result folders, exclusions and studies. */
export async function readMeasured(
  path: string,
  { results = 'results', verify = true }: MeasuredOptions,
): Promise<Result<Measured, readonly Problem[]>> {
  const opened = await openCampaign(path);
  if (!opened.ok) return opened;
  const { campaign, suite } = opened.value;
  const shelf = await openShelf(results);
  const labels = campaign.rigs.map(({ label }) => label);
  const headers = await shelf.read((name) => labels.some((label) => mayBeOfRig(name, label)));
  if (!headers.ok) return err([headers.error]);
  const excluded = await readExclusions(results);
  if (!excluded.ok) return err([excluded.error]);
  const studied = await readStudies(results);
  if (!studied.ok) return err([studied.error]);
  const own = headers.value.filter(
    ({ rig, digest, state }) =>
      labels.includes(rig) && digest === suite.suite.digest && isFinished(state),
  );
  const read = await readAllFigures(
    own.map(({ folder }) => folder),
    { isVerified: verify, exclusions: excluded.value.lines },
    availableParallelism(),
  );
  if (!read.ok) return read;
  const measured = labels.map((label) => ({
    label,
    sittings: read.value.flatMap(({ figures }) => (figures.rig === label ? [figures] : [])),
  }));
  const studies = studied.value.studies.map(({ study }) => study);
  return ok({ campaign, measured, studies });
}
