import { describe, expect, it } from 'vitest';
import { isCampaignText } from '../../../src/campaign/is-campaign.ts';

describe('isCampaignText', () => {
  it.each([
    'campaign: a',
    '# a comment\n\n---\ncampaign: a',
    '\ufeffcampaign: a',
    '"campaign" : a',
    '{campaign: a}',
    '# yaml-language-server: $schema=x\r\ncampaign: a',
  ])('tells a campaign by its first key: %j', (text) => {
    expect(isCampaignText(text)).toBe(true);
  });

  it.each(['suite: a\ncampaign: b', '# campaign: a\nsuite: b', 'campaigns: a', ''])(
    'takes nothing else for one: %j',
    (text) => {
      expect(isCampaignText(text)).toBe(false);
    },
  );

  it('decides quickly about a megabyte of anything', () => {
    for (const part of ['\n', '#', ' ', '#\n', '---\n', '{', ' \n'])
      expect(isCampaignText(part.repeat(2 ** 20 / part.length))).toBe(false);
  });
});
