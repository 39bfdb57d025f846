import { describe, expect, it } from 'vitest';
import { invisibleParts, visibleSwaps } from '../../../src/campaign/visible-roles.ts';
import { sampleCampaign } from '../../setup/sample-campaign.ts';

const campaign = sampleCampaign();

describe('what an inventory can tell of parts', () => {
  it('leaves cooler and case to the operator', () => {
    expect(invisibleParts(campaign, 'first-8').map(({ id }) => id)).toEqual(['cooler-a', 'case-a']);
  });

  it('names of a swap the parts that should show', () => {
    expect(visibleSwaps(campaign, 'first-8', 'second-16')).toEqual([
      { role: 'board', out: 'Example board-one', in: 'Example board-two' },
      {
        role: 'memory',
        out: 'Example memory-8, Example memory-8',
        in: 'Example memory-16, Example memory-16',
      },
    ]);
    expect(visibleSwaps(campaign, 'first-8', 'first-8')).toEqual([]);
    expect(visibleSwaps(campaign, 'of-another-campaign', 'first-8')).toEqual([]);
  });

  it('says nothing of swaps that no reading shows', () => {
    const [first, ...others] = campaign.rigs;
    const cooled = { ...first, label: 'cooled', parts: [...first.parts.slice(0, 3), 'case-a'] };
    const rigs = [first, ...others, cooled] as const;
    expect(visibleSwaps({ ...campaign, rigs }, 'cooled', 'first-8')).toEqual([]);
  });
});
