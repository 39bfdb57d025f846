import type { Campaign } from '../model/campaign.ts';
import type { CampaignSitting, SittingOddity } from '../model/campaign-progress.ts';
import { checkExpectations } from './check-expectations.ts';

/** What makes a sitting that is over worth a second look. What the operator accepted about the rig is not among it. */
export function findOddities(
  campaign: Pick<Campaign, 'rigs'>,
  sitting: CampaignSitting,
): readonly SittingOddity[] {
  const { failedRuns, disturbedRuns, leftOut, state } = sitting;
  const found: SittingOddity[] = [];
  if (failedRuns > 0) found.push({ code: 'runs-failed', message: `${runs(failedRuns)} failed` });
  if (leftOut.length > 0)
    found.push({ code: 'left-out-workloads', message: `left out: ${leftOut.join(', ')}` });
  if (state === 'cut-short')
    found.push({ code: 'cut-short', message: 'its time was over before its runs were' });
  if (disturbedRuns > 0)
    found.push({ code: 'runs-disturbed', message: `${runs(disturbedRuns)} disturbed` });
  return [...found, ...unexpected(campaign, sitting)];
}

function runs(count: number): string {
  return count === 1 ? '1 run' : `${count} runs`;
}

function unexpected(
  { rigs }: Pick<Campaign, 'rigs'>,
  { rig: label, inventory, accepted }: CampaignSitting,
): readonly SittingOddity[] {
  const rig = rigs.find((one) => one.label === label);
  if (rig === undefined) return [];
  const known = new Set(accepted.map(({ path }) => path));
  return checkExpectations(rig, inventory)
    .filter(({ path, kind }) => kind === 'unexpected' && !known.has(path))
    .map(({ path, from, to }) => ({
      code: 'unexpected-inventory',
      message: `${path} is ${to}, expected ${from}`,
    }));
}
