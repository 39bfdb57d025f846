import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nextStep } from '../../../src/campaign/next-step.ts';
import { campaignProgress } from '../../../src/campaign/progress.ts';
import { campaignSchedule } from '../../../src/campaign/schedule.ts';
import { stepWithoutOpen } from '../../../src/campaign/step-without-open.ts';
import type { Campaign } from '../../../src/model/campaign.ts';
import type {
  CampaignSitting,
  MeasureStep,
  NextStep,
} from '../../../src/model/campaign-progress.ts';
import {
  sampleCampaign,
  sampleCampaignRig,
  samplePart,
  sampleCampaignSitting as sitting,
} from '../../setup/sample-campaign.ts';

const digest = 'a'.repeat(64);

function stepAfter(campaign: Campaign, sittings: readonly CampaignSitting[]): NextStep {
  return nextStep(campaign, campaignProgress(campaign, digest, sittings));
}

/** Follows the guidance from given sittings to the end; the steps taken. */
function follow(campaign: Campaign, begun: readonly CampaignSitting[] = []): MeasureStep[] {
  const sittings = [...begun];
  const steps: MeasureStep[] = [];
  for (let hour = 1000; hour < 2000; hour += 1) {
    const step = stepAfter(campaign, sittings);
    if (step.kind === 'done') return steps;
    if (step.kind !== 'measure') throw new Error(`a step to ${step.kind}`);
    steps.push(step);
    sittings.push(sitting(step.rig, hour, { assembly: step.assembly }));
  }
  throw new Error('no end');
}

const campaigns = fc
  .record({
    rigs: fc.integer({ min: 2, max: 6 }),
    sittings: fc.integer({ min: 1, max: 6 }),
    assemblies: fc.integer({ min: 1, max: 4 }),
    returnToBaseline: fc.boolean(),
    seed: fc.nat(),
  })
  .map(({ rigs, ...rest }) => {
    const all = Array.from({ length: rigs }, (_, at) =>
      sampleCampaignRig(`rig-${at}`, [`board-${at}`, 'case']),
    );
    const [first, ...others] = all;
    if (first === undefined) throw new Error('no rig');
    const parts = [...all.map((_, at) => samplePart(`board-${at}`)), samplePart('case')];
    return sampleCampaign({ rigs: [first, ...others], baseline: 'rig-0', parts, ...rest });
  });

describe('the next step of a campaign', () => {
  it('goes on with what is open, or begins anew where that is to be left', () => {
    const campaign = sampleCampaign({ sittings: 2 });
    const open = sitting(campaign.baseline, 1, { state: 'interrupted' });
    const progress = campaignProgress(campaign, digest, [open]);
    expect(nextStep(campaign, progress)).toMatchObject({ kind: 'continue', sitting: open.id });
    const anew = stepWithoutOpen(campaign, progress);
    expect(anew).toMatchObject({ kind: 'measure', rig: campaign.baseline });
    // The open one counts for nothing: as many are still to do as before it was begun.
    const before = stepAfter(campaign, []);
    expect(anew).toMatchObject({ number: before.kind === 'measure' ? before.number : null });
  });

  it('leads through the whole of it: baseline first and last, each rig its number, no swap too many', () => {
    fc.assert(
      fc.property(campaigns, (campaign) => {
        const steps = follow(campaign);
        const visits = Math.min(campaign.sittings, campaign.assemblies);
        const returned = campaign.returnToBaseline ? Math.ceil(campaign.sittings / visits) : 0;
        expect(steps[0]?.rig).toBe('rig-0');
        if (campaign.returnToBaseline)
          expect(steps.at(-1)).toMatchObject({ rig: 'rig-0', isReturn: true });
        for (const { label } of campaign.rigs) {
          const own = steps.filter(({ rig }) => rig === label);
          const more = label === 'rig-0' ? returned : 0;
          expect(own).toHaveLength(campaign.sittings + more);
          // Spread over its assemblies, each built once.
          const assemblies = own.map(({ assembly }) => assembly);
          expect(assemblies).toEqual([...assemblies].sort((one, other) => one - other));
          expect(new Set(assemblies).size).toBe(visits + (more > 0 ? 1 : 0));
        }
        const swaps = steps.filter(({ swap }) => swap !== null).length;
        expect(swaps).toBe(campaign.rigs.length * visits + (returned > 0 ? 1 : 0));
        // Never built anew from itself: between two builds of a rig stands another one.
        expect(steps.every(({ rig, swap }) => swap?.from !== rig)).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  it('draws the order between the baselines from the seed, and keeps it', () => {
    const order = (seed: number) =>
      campaignSchedule(sampleCampaign({ seed })).map(({ rig }) => rig);
    expect(order(7)).toEqual(order(7));
    const orders = new Set(Array.from({ length: 30 }, (_, seed) => order(seed).slice(1, 4).join()));
    expect(orders.size).toBe(6);
    // Frozen: a campaign under way must not change its order with a new version.
    expect(order(7)).toMatchInlineSnapshot(`
      [
        "first-8",
        "first-16",
        "second-8",
        "second-16",
        "first-8",
        "first-16",
        "second-8",
        "second-16",
        "first-8",
      ]
    `);
  });

  it('leads to the end from any sittings that are there, also measured in another order', () => {
    const begun = fc.array(
      fc.record({ rig: fc.nat(5), assembly: fc.option(fc.integer({ min: 1, max: 3 })) }),
      { maxLength: 12 },
    );
    fc.assert(
      fc.property(campaigns, begun, (campaign, drawn) => {
        const sittings = drawn.map(({ rig, assembly }, hour) =>
          sitting(`rig-${rig % campaign.rigs.length}`, hour, { assembly }),
        );
        const steps = follow(campaign, sittings);
        for (const { label } of campaign.rigs) {
          const had = sittings.filter(({ rig }) => rig === label).length;
          const more = steps.filter(({ rig, isReturn }) => rig === label && !isReturn).length;
          expect(had + more).toBeGreaterThanOrEqual(campaign.sittings);
          expect(more).toBeLessThanOrEqual(campaign.sittings);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('continues an open sitting first, and says where only figures are missing', () => {
    const campaign = sampleCampaign();
    const open = sitting('first-8', 1, { state: 'interrupted' });
    expect(stepAfter(campaign, [open])).toEqual({
      kind: 'continue',
      rig: 'first-8',
      sitting: open.id,
    });
    const waiting = sitting('first-8', 1, { state: 'waiting' });
    expect(stepAfter(campaign, [waiting])).toMatchObject({ kind: 'enter', sitting: waiting.id });
  });

  it('does not go back to an open sitting once another rig was built', () => {
    const begun = [sitting('first-8', 1, { state: 'interrupted' }), sitting('second-8', 2)];
    const step = stepAfter(sampleCampaign({ assemblies: 1 }), begun);
    // The rig that stands is finished first.
    expect(step).toMatchObject({ kind: 'measure', rig: 'second-8', number: 2, swap: null });
  });

  it('needs no swap within an assembly, and lists one against the rig built last', () => {
    const campaign = sampleCampaign();
    expect(stepAfter(campaign, [])).toMatchObject({
      ...{ rig: 'first-8', number: 1, of: 3, assembly: 1 },
      swap: { from: null, takeOut: [], putIn: { length: 5 }, reseat: [] },
    });
    const one = [sitting('first-8', 1)];
    expect(stepAfter(campaign, one)).toMatchObject({ rig: 'first-8', assembly: 1, swap: null });
    const two = [...one, sitting('first-8', 2)];
    const step = stepAfter(campaign, two);
    expect(step).toMatchObject({ swap: { from: 'first-8' }, assembly: 1, number: 1 });
  });

  it('has a rig built anew where more sittings stand in one assembly than were to be', () => {
    const campaign = sampleCampaign({ sittings: 4 });
    const three = [1, 2, 3].map((hour) => sitting('first-8', hour));
    const rest = campaign.rigs
      .slice(1)
      .flatMap(({ label }, at) =>
        [1, 2].map((hour) => sitting(label, 10 * (at + 1) + hour, { assembly: 1 })),
      );
    expect(stepAfter(campaign, [...three, ...rest])).toMatchObject({
      ...{ rig: 'first-8', assembly: 2, number: 4 },
      swap: { from: 'second-16' },
    });
  });

  it('is done when nothing is left', () => {
    const campaign = sampleCampaign({ sittings: 1, assemblies: 1, returnToBaseline: false });
    const all = campaign.rigs.map(({ label }, hour) => sitting(label, hour));
    expect(stepAfter(campaign, all)).toEqual({ kind: 'done' });
  });
});
