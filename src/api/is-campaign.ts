import { isCampaignText } from '../campaign/is-campaign.ts';
import { readSmallFile } from '../lib/read-small-file.ts';

/** Whether a file begins as a campaign does; false also for what cannot be read, which whoever opens it will tell. */
export async function isCampaign(path: string): Promise<boolean> {
  const bytes = await readSmallFile(path, 2 ** 20, 'a campaign');
  return bytes.ok && isCampaignText(bytes.value.toString('utf8'));
}
