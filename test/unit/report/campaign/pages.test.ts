import { describe, expect, it } from 'vitest';
import { nextStep } from '../../../../src/campaign/next-step.ts';
import { campaignProgress } from '../../../../src/campaign/progress.ts';
import type { CampaignSitting, RigDeviation } from '../../../../src/model/campaign-progress.ts';
import { renderDeviations } from '../../../../src/report/campaign/deviation-lines.ts';
import { renderProgress } from '../../../../src/report/campaign/progress-page.ts';
import { renderSwapCautions } from '../../../../src/report/swap-cautions-page.ts';
import {
  sampleCampaign,
  sampleCampaignSitting as sitting,
} from '../../../setup/sample-campaign.ts';

function page(sittings: readonly CampaignSitting[], campaign = sampleCampaign()): string {
  const progress = campaignProgress(campaign, 'a'.repeat(64), sittings);
  return renderProgress(campaign, progress, nextStep(campaign, progress));
}

function widest(text: string): number {
  return Math.max(...text.split('\n').map((line) => [...line].length));
}

describe('the page of a campaign', () => {
  it('shows the grid, what is odd and the parts to swap, within 80 columns', () => {
    const text = page([
      sitting('first-8', 1, { failedRuns: 2 }),
      sitting('first-8', 2, { digest: 'b'.repeat(64) }),
      sitting('first-8', 3),
    ]);
    expect(text).toMatch(/^first-8 +odd +done +to do$/m);
    expect(text).toMatch(/^first-8 again +to do +to do$/m);
    expect(text).toContain('2 runs failed [runs-failed]');
    expect(text).toContain('of another suite');
    expect(text).toMatch(/- take out .*\(/);
    expect(widest(text)).toBeLessThanOrEqual(80);
  });

  it('turns to marks where there are many sittings, and keeps long labels within 80 columns', () => {
    const [first, ...others] = sampleCampaign().rigs;
    const long = 'a-rig-with-a-very-long-label-of-40-chars';
    const rigs = [{ ...first, label: long }, ...others] as const;
    const campaign = sampleCampaign({ rigs, baseline: long, sittings: 60 });
    const text = page([sitting(long, 1)], campaign);
    expect(text).toContain('D done, O odd, / open, . to do');
    expect(widest(text)).toBeLessThanOrEqual(80);
  });

  it('puts what is unexpected last, nearest to the question', () => {
    const one = (kind: RigDeviation['kind']): RigDeviation => ({
      ...{ path: `board.${kind}`, from: 'Example Board One', to: 'Example Board Two' },
      ...{ kind, against: 'rig-before' },
    });
    const text = renderDeviations([one('unexpected'), one('not-visible'), one('expected')], null);
    expect(text.split('\n').filter((line) => line.endsWith(':'))).toEqual([
      'as expected:',
      'not visible to software:',
      'UNEXPECTED:',
    ]);
    expect(renderDeviations([], '2026-first-8')).toBe('nothing differs from 2026-first-8');
    expect(renderDeviations([], null)).toContain('no earlier sitting');
  });

  it('has the cautions of a swap within 80 columns, and calls nothing safe', () => {
    const text = renderSwapCautions();
    expect(widest(text)).toBeLessThanOrEqual(80);
    for (const word of [
      'unplug',
      'power button',
      'unpainted metal',
      'Never open',
      'fans',
      'licensed',
    ])
      expect(text).toContain(word);
    expect(text).not.toMatch(/\bsafe/i);
  });
});
