import { existsSync } from 'node:fs';
import { type LoadedCampaign, loadCampaign } from '../campaign/load.ts';
import { deepFreeze } from '../lib/freeze.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { suggest } from '../lib/suggest.ts';
import type { Campaign } from '../model/campaign.ts';
import type { Problem } from '../model/problem.ts';
import type { LoadedSuite } from '../suite/load.ts';
import { findSuite, shippedSuites } from './find-suite.ts';
import { openSuite } from './open-suite.ts';

export interface OpenedCampaign extends Omit<LoadedCampaign, 'campaign'> {
  /** With the suite's difference that matters where the campaign states none. */
  readonly campaign: Campaign;
  /** In the form of the profile that the campaign names. */
  readonly suite: LoadedSuite;
}

/**
 * Reads and checks a campaign file and the suite that it names; all problems of the campaign at once, or all of the suite's, each
 * with its place. A suite or profile that is not there is a problem of the campaign.
 */
export async function openCampaign(
  path: string,
): Promise<Result<OpenedCampaign, readonly Problem[]>> {
  const loaded = await loadCampaign(path);
  if (!loaded.ok) return loaded;
  const { campaign, folder, statesDifference } = loaded.value;
  const suitePath = findSuite(campaign.suite, folder);
  if (!existsSync(suitePath)) return err([noSuite(loaded.value)]);
  const suite = await openSuite(suitePath, campaign.profile);
  if (!suite.ok) return err(suite.error.map((problem) => placed(problem, loaded.value)));
  const { differenceThatMatters } = statesDifference ? campaign : suite.value.suite;
  return ok({
    ...loaded.value,
    campaign: deepFreeze({ ...campaign, differenceThatMatters }),
    suite: suite.value,
  });
}

function noSuite({ campaign, problemAt }: LoadedCampaign): Problem {
  const shipped = shippedSuites();
  const near = suggest(campaign.suite, shipped);
  const hint =
    near === null
      ? `expected a path from the folder of this file, or one of ${shipped.map((name) => `\`${name}\``).join(', ')}`
      : `did you mean \`${near}\`?`;
  const message = `\`${campaign.suite}\` is no file beside this one and no shipped suite; ${hint}`;
  return problemAt(['suite'], message);
}

/** A profile is asked for by the campaign, so there is where to mend it. */
function placed(problem: Problem, { campaign, problemAt }: LoadedCampaign): Problem {
  if (problem.code !== 'option-invalid') return problem;
  return problemAt(['profile'], `suite \`${campaign.suite}\` ${problem.message}`);
}
