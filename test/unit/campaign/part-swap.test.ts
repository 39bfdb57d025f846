import { describe, expect, it } from 'vitest';
import { partSwap } from '../../../src/campaign/part-swap.ts';
import { sampleCampaign, sampleCampaignRig, samplePart } from '../../setup/sample-campaign.ts';

const ids = (parts: readonly { readonly id: string }[]) => parts.map(({ id }) => id);

describe('a swap of parts', () => {
  it('lists each module that leaves and each that comes, and nothing that stays', () => {
    const swap = partSwap(sampleCampaign(), 'first-8', 'second-16');
    expect(ids(swap.takeOut)).toEqual(['board-one', 'memory-8', 'memory-8']);
    expect(ids(swap.putIn)).toEqual(['board-two', 'memory-16', 'memory-16']);
    expect(swap.reseat).toEqual([]);
  });

  it('counts: one of two like modules may stay', () => {
    const campaign = sampleCampaign({
      rigs: [
        sampleCampaignRig('one', ['memory-8']),
        sampleCampaignRig('two', ['memory-8', 'memory-8']),
      ],
      parts: [samplePart('memory-8')],
    });
    expect(ids(partSwap(campaign, 'one', 'two').putIn)).toEqual(['memory-8']);
    expect(ids(partSwap(campaign, 'one', 'two').takeOut)).toEqual([]);
    expect(ids(partSwap(campaign, 'two', 'one').takeOut)).toEqual(['memory-8']);
  });

  it('has the parts re-seated that differ between rigs where one is built anew', () => {
    const swap = partSwap(sampleCampaign(), 'first-8', 'first-8');
    expect(ids(swap.reseat)).toEqual(['board-one', 'memory-8', 'memory-8']);
    expect([...swap.takeOut, ...swap.putIn]).toEqual([]);
  });
});
