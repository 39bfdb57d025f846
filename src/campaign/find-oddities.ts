import type { Campaign } from '../model/campaign.ts';
import type { CampaignSitting, SittingOddity } from '../model/campaign-progress.ts';
import { checkExpectations } from './check-expectations.ts';

/** What makes a sitting that is over worth a second look. What the operator accepted about the rig is not among it. */
export function findOddities(
  campaign: Pick<Campaign, 'rigs'>,
  sitting: CampaignSitting,
): readonly SittingOddity[] {
  const { failedRuns, tornBytes, disturbedRuns, throttledRuns, leftOut, state } = sitting;
  const found: SittingOddity[] = [];
  if (failedRuns > 0) found.push({ code: 'runs-failed', message: `${runs(failedRuns)} failed` });
  // A sitting that is over has ended its last line, so this was not measured like that.
  if (tornBytes > 0)
    found.push({
      code: 'record-torn',
      message: 'the record of its runs ends in the middle of one: `steadyrig verify`',
    });
  if (leftOut.length > 0)
    found.push({ code: 'left-out-workloads', message: `left out: ${leftOut.join(', ')}` });
  if (state === 'cut-short')
    found.push({ code: 'cut-short', message: 'its time was over before its runs were' });
  if (disturbedRuns > 0)
    found.push({ code: 'runs-disturbed', message: `${runs(disturbedRuns)} disturbed` });
  if (throttledRuns > 0)
    found.push({ code: 'runs-throttled', message: `${runs(throttledRuns)} slowed by heat` });
  return [...found, ...unexpected(campaign, sitting)];
}

function runs(count: number): string {
  return count === 1 ? '1 run' : `${count} runs`;
}

/** What the campaign expects comes first; what it covers is told once. */
function unexpected(
  { rigs }: Pick<Campaign, 'rigs'>,
  { rig: label, inventory, changes, accepted }: CampaignSitting,
): readonly SittingOddity[] {
  const rig = rigs.find((one) => one.label === label);
  if (rig === undefined) return [];
  const known = new Set(accepted.map(({ path }) => path));
  const expectations = checkExpectations(rig, inventory).filter(({ path }) => !known.has(path));
  for (const { path } of expectations) known.add(path);
  return [
    ...expectations
      .filter(({ kind }) => kind === 'unexpected')
      .map(({ path, from, to }) => `${path} is ${to}, expected ${from}`),
    ...changes
      .filter(({ path }) => !known.has(path))
      .map(({ path, from, to }) => `${path} was ${from ?? 'absent'} before, is ${to ?? 'absent'}`),
  ].map((message) => ({ code: 'unexpected-inventory', message }));
}
