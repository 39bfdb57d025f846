import { weighCampaign } from '../compare/worth/weigh-campaign.ts';
import { ok, type Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';
import type { Worth } from '../model/worth.ts';
import { type MeasuredOptions, readMeasured } from './campaign/read-measured.ts';

export type WorthOptions = MeasuredOptions;

/**
 * What the rigs of a campaign cost and give for it, from the finished sittings of its suite in a results folder. Rigs without any
 * are priced all the same. Codes: those of `openCampaign` and of reading result folders, exclusions and studies.
 */
export async function weighRigs(
  path: string,
  options: WorthOptions = {},
): Promise<Result<Worth, readonly Problem[]>> {
  const read = await readMeasured(path, options);
  if (!read.ok) return read;
  const { campaign, rigs: measured, studies, notes } = read.value;
  const worth = weighCampaign({ campaign, measured, studies, confidence: 0.95 });
  return ok({ ...worth, notes: [...notes, ...worth.notes] });
}
