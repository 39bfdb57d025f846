import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { nextStep } from '../campaign/next-step.ts';
import { campaignProgress } from '../campaign/progress.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { CampaignProgress, NextStep } from '../model/campaign-progress.ts';
import type { Problem } from '../model/problem.ts';
import { mayBeOfRig } from '../results/layout.ts';
import { readSitting, type StoredSitting } from '../results/read-sitting.ts';
import { listSittingNames } from '../results/sitting-names.ts';
import { glanceSitting } from './campaign/glance-sitting.ts';
import { type OpenedCampaign, openCampaign } from './open-campaign.ts';

export interface FollowedCampaign extends OpenedCampaign {
  readonly progress: CampaignProgress;
  readonly step: NextStep;
  /** Sittings of its rigs, oldest first. */
  readonly sittings: readonly StoredSitting[];
  /** Folders that look like sittings of its rigs and cannot be read: they do not count. */
  readonly problems: readonly Problem[];
}

/**
 * Reads a campaign and where it stands, from the folders below `results` alone; a folder that is not there yet has none.
 * Codes: those of `openCampaign`, and `folder-invalid`.
 */
export async function followCampaign(
  path: string,
  results: string,
): Promise<Result<FollowedCampaign, readonly Problem[]>> {
  const opened = await openCampaign(path);
  if (!opened.ok) return opened;
  const { campaign, suite } = opened.value;
  const names = existsSync(results) ? await listSittingNames(results) : ok([]);
  if (!names.ok) return err([names.error]);
  const labels = campaign.rigs.map(({ label }) => label);
  const sittings: StoredSitting[] = [];
  const problems: Problem[] = [];
  for (const name of names.value) {
    if (!labels.some((label) => mayBeOfRig(name, label))) continue;
    const read = await readSitting(join(results, name));
    if (!read.ok) problems.push(read.error);
    else if (labels.includes(read.value.sitting.rig)) sittings.push(read.value);
  }
  sittings.sort(
    (one, other) => Date.parse(one.sitting.startedAt) - Date.parse(other.sitting.startedAt),
  );
  const glances = sittings.map((stored, at) => glanceSitting(stored, beforeIt(sittings, at)));
  const progress = campaignProgress(campaign, suite.suite.digest, glances);
  return ok({
    ...opened.value,
    progress,
    step: nextStep(campaign, progress),
    sittings,
    problems,
  });
}

/** The sitting of the same rig before one. */
function beforeIt(sittings: readonly StoredSitting[], at: number): StoredSitting | null {
  const rig = sittings[at]?.sitting.rig;
  return sittings.slice(0, at).findLast(({ sitting }) => sitting.rig === rig) ?? null;
}
