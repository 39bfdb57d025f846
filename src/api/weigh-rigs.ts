import { availableParallelism } from 'node:os';
import { weighCampaign } from '../compare/worth/weigh-campaign.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';
import type { Worth } from '../model/worth.ts';
import { readExclusions } from '../results/read-exclusions.ts';
import { readStudies } from '../results/read-studies.ts';
import { openShelf } from '../results/select/sitting-header.ts';
import { readAllFigures } from './compare/read-all-figures.ts';
import { openCampaign } from './open-campaign.ts';

export interface WorthOptions {
  /** Folder of the sittings. Default `results`. */
  readonly results?: string;
  /** Compare sealed sittings with their seals first. Default true. */
  readonly verify?: boolean;
}

/**
 * What the rigs of a campaign cost and give for it, from the finished sittings of its suite in a results folder. Rigs without any
 * are priced all the same. Codes: those of `openCampaign` and of reading result folders, exclusions and studies.
 */
export async function weighRigs(
  path: string,
  { results = 'results', verify = true }: WorthOptions = {},
): Promise<Result<Worth, readonly Problem[]>> {
  const opened = await openCampaign(path);
  if (!opened.ok) return opened;
  const { campaign, suite } = opened.value;
  const shelf = await openShelf(results);
  const labels = campaign.rigs.map(({ label }) => label);
  const headers = await shelf.read((name) => labels.some((label) => name.includes(`-${label}-`)));
  if (!headers.ok) return err([headers.error]);
  const excluded = await readExclusions(results);
  if (!excluded.ok) return err([excluded.error]);
  const studied = await readStudies(results);
  if (!studied.ok) return err([studied.error]);
  const own = headers.value.filter(
    ({ rig, digest, state }) =>
      labels.includes(rig) &&
      digest === suite.suite.digest &&
      (state === 'complete' || state === 'cut-short'),
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
  return ok(weighCampaign({ campaign, measured, studies, confidence: 0.95 }));
}
