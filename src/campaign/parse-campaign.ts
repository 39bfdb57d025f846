import { deepFreeze } from '../lib/freeze.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { Campaign } from '../model/campaign.ts';
import type { Problem } from '../model/problem.ts';
import { type Fault, faultsOf } from '../suite/describe-issue.ts';
import { inOrder } from '../suite/in-order.ts';
import { offsetAt, type Path, type Place, type Report } from '../suite/place.ts';
import { parseYaml } from '../suite/read-yaml.ts';
import { campaignSchema } from './campaign-schema.ts';
import { campaignWords } from './campaign-words.ts';
import { checkNames } from './check-names.ts';
import { resolveCampaign } from './resolve-campaign.ts';

/** A campaign with its places, for findings that need the disk. */
export interface ParsedCampaign {
  readonly campaign: Campaign;
  /** Whether the file states the difference that matters; else the suite's holds. */
  readonly statesDifference: boolean;
  /** A problem at a path of the file, such as `['suite']`. */
  problemAt(path: Path, message: string): Problem;
}

/**
 * The campaign that `text` describes, frozen, with every default filled in; or all problems found, in the order of the
 * file. Pure: the suite that it names is not looked at.
 */
export function parseCampaign(
  text: string,
  fileName: string,
): Result<ParsedCampaign, readonly Problem[]> {
  const file = parseYaml(text, fileName, campaignWords);
  if (!file.ok) return err(inOrder(file.error));
  const { value, place, report } = file.value;
  if (isSuite(value)) {
    const message = 'this is a suite; expected a campaign, whose first key is `campaign`';
    return err([report(place.offset, message, 'campaign-invalid')]);
  }
  const written = campaignSchema.safeParse(value);
  const faults = written.success
    ? checkNames(written.data)
    : faultsOf(written.error.issues, value, [], campaignWords);
  if (!written.success || faults.length > 0)
    return err(inOrder(faults.map((fault) => problemOf(fault, place, report))));
  return ok({
    campaign: deepFreeze(resolveCampaign(written.data)),
    statesDifference: written.data['difference-that-matters'] !== undefined,
    problemAt: (path, message) => problemOf({ path, at: 'value', message }, place, report),
  });
}

/** A file given for the other kind deserves one sentence instead of one for each of its keys. */
function isSuite(value: unknown): boolean {
  if (typeof value !== 'object' || value === null) return false;
  return Object.hasOwn(value, 'workloads') && !Object.hasOwn(value, 'campaign');
}

function problemOf({ path, at, message }: Fault, root: Place, report: Report): Problem {
  return report(offsetAt(root, path, at), message, 'campaign-invalid');
}
