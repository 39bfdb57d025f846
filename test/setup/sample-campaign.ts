import type { Campaign, CampaignRig, Part } from '../../src/model/campaign.ts';
import type { CampaignSitting } from '../../src/model/campaign-progress.ts';
import { sampleInventory } from './samples.ts';

/** Invented records for tests: a campaign of the Harbour Lane repair co-op, two boards by two memory kits. */

export function samplePart(id: string, changes: Partial<Part> = {}): Part {
  return {
    id,
    role: id.split('-')[0] ?? '',
    name: `Example ${id}`,
    price: null,
    owned: false,
    affects: 'performance',
    alternatives: [],
    ...changes,
  };
}

export function sampleCampaignRig(
  label: string,
  parts: readonly string[],
  changes: Partial<CampaignRig> = {},
): CampaignRig {
  return { label, title: label, levels: {}, parts, expect: [], ...changes };
}

export function sampleCampaign(changes: Partial<Campaign> = {}): Campaign {
  return {
    id: 'harbour-boards',
    title: 'Boards and memory (invented)',
    question: 'Is the second board worth its price?',
    suite: 'harbour',
    profile: null,
    baseline: 'first-8',
    factors: [
      { id: 'board', title: 'Board', levels: ['first', 'second'] },
      { id: 'memory', title: 'Memory', levels: ['2x8 GiB', '2x16 GiB'] },
    ],
    rigs: [
      sampleCampaignRig('first-8', ['board-one', 'memory-8', 'memory-8', 'cooler-a', 'case-a'], {
        levels: { board: 'first', memory: '2x8 GiB' },
      }),
      sampleCampaignRig('second-8', ['board-two', 'memory-8', 'memory-8', 'cooler-a', 'case-a'], {
        levels: { board: 'second', memory: '2x8 GiB' },
      }),
      sampleCampaignRig('first-16', ['board-one', 'memory-16', 'memory-16', 'cooler-a', 'case-a'], {
        levels: { board: 'first', memory: '2x16 GiB' },
      }),
      sampleCampaignRig(
        'second-16',
        ['board-two', 'memory-16', 'memory-16', 'cooler-a', 'case-a'],
        {
          levels: { board: 'second', memory: '2x16 GiB' },
        },
      ),
    ],
    parts: ['board-one', 'board-two', 'memory-8', 'memory-16', 'cooler-a', 'case-a'].map((id) =>
      samplePart(id),
    ),
    sittings: 3,
    assemblies: 2,
    swapSeconds: 1800,
    returnToBaseline: true,
    differenceThatMatters: 0.02,
    seed: 7,
    conditions: [],
    questions: [],
    money: { reportIn: null, rates: [], energyPrice: null, hoursOfUse: null },
    invented: true,
    ...changes,
  };
}

/** A good sitting of the `hour`th hour. */
export function sampleCampaignSitting(
  rig: string,
  hour: number,
  changes: Partial<CampaignSitting> = {},
): CampaignSitting {
  const startedAt = new Date(Date.UTC(2026, 0, 12) + hour * 3_600_000).toISOString();
  return {
    id: `${startedAt.replace(/[-:]|\.\d+/g, '')}-${rig}-harbour-${hour.toString(16).padStart(4, '0')}`,
    rig,
    digest: 'a'.repeat(64),
    assembly: 1,
    state: 'complete',
    startedAt,
    isAgain: false,
    failedRuns: 0,
    tornBytes: 0,
    disturbedRuns: 0,
    throttledRuns: 0,
    changes: [],
    leftOut: [],
    inventory: sampleInventory,
    accepted: [],
    ...changes,
  };
}
