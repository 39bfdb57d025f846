import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { campaignProgress } from '../../../src/campaign/progress.ts';
import type { CampaignSitting, ProgressRow } from '../../../src/model/campaign-progress.ts';
import { sampleCampaign, sampleCampaignSitting as sitting } from '../../setup/sample-campaign.ts';
import { sampleInventory } from '../../setup/samples.ts';

const digest = 'a'.repeat(64);
const campaign = sampleCampaign();
const labels = campaign.rigs.map(({ label }) => label);

const progressOf = (sittings: readonly CampaignSitting[]) =>
  campaignProgress(campaign, digest, sittings);

const states = (sittings: readonly CampaignSitting[], rig: string, isReturn = false) =>
  rowOf(progressOf(sittings).rows, rig, isReturn).cells.map(({ state }) => state);

function rowOf(rows: readonly ProgressRow[], rig: string, isReturn = false): ProgressRow {
  const row = rows.find((one) => one.rig === rig && one.isReturn === isReturn);
  if (row === undefined) throw new Error(`no row ${rig}`);
  return row;
}

describe('the progress of a campaign', () => {
  it('begins with everything to do, the return to the baseline in a row of its own', () => {
    const { rows, last } = progressOf([]);
    expect(rows.map(({ rig, isReturn, wanted }) => [rig, isReturn, wanted])).toEqual([
      ['first-8', false, 3],
      ['second-8', false, 3],
      ['first-16', false, 3],
      ['second-16', false, 3],
      ['first-8', true, 2],
    ]);
    expect(rows.flatMap(({ cells }) => cells.map(({ state }) => state))).toEqual(
      Array.from({ length: 14 }, () => 'to-do'),
    );
    expect(last).toBeNull();
  });

  it('is the same whatever the order, with copies among them, and whichever machine a folder came from', () => {
    const arbitrary = fc.uniqueArray(
      fc.record({
        rig: fc.constantFrom(...labels, 'elsewhere'),
        hour: fc.nat(60),
        state: fc.constantFrom('complete', 'cut-short', 'interrupted', 'open', 'waiting'),
        assembly: fc.option(fc.integer({ min: 1, max: 3 })),
        digest: fc.constantFrom(digest, 'b'.repeat(64)),
        isAgain: fc.boolean(),
      }),
      { selector: ({ hour }) => hour, maxLength: 25 },
    );
    fc.assert(
      fc.property(arbitrary, fc.infiniteStream(fc.nat()), (drawn, keys) => {
        const all = drawn.map(({ rig, hour, ...rest }) => sitting(rig, hour, rest));
        const expected = progressOf(all);
        const mixed = all
          .flatMap((one) => [one, { ...one }])
          .map((one) => ({ one, key: keys.next().value ?? 0 }))
          .sort((a, b) => a.key - b.key)
          .map(({ one }) => one);
        expect(progressOf(mixed)).toEqual(expected);
        // Nothing is lost: each sitting of a rig is in one row or among the others.
        const shown = [
          ...expected.rows.flatMap(({ cells }) =>
            cells.flatMap((cell) => (cell.state === 'to-do' ? [] : [cell.sitting])),
          ),
          ...expected.others.map((other) => other.sitting),
        ];
        const ids = all.filter(({ rig }) => rig !== 'elsewhere').map(({ id }) => id);
        expect([...shown].sort()).toEqual([...ids].sort());
        for (const row of expected.rows)
          expect(row.counted).toBeLessThanOrEqual(
            row.cells.filter(({ state }) => state !== 'to-do').length,
          );
      }),
    );
  });

  it('counts what was measured, odd or not, and says what is odd', () => {
    const odd = sitting('second-8', 2, {
      state: 'cut-short',
      failedRuns: 1,
      tornBytes: 300,
      disturbedRuns: 3,
      leftOut: ['compile'],
    });
    const { rows } = progressOf([sitting('first-8', 1), odd]);
    const row = rowOf(rows, 'second-8');
    expect(row.counted).toBe(1);
    expect(row.cells.map(({ state }) => state)).toEqual(['odd', 'to-do', 'to-do']);
    expect(row.cells[0]).toMatchObject({
      oddities: [
        { code: 'runs-failed', message: '1 run failed' },
        {
          code: 'record-torn',
          message: 'the record of its runs ends in the middle of one: `steadyrig verify`',
        },
        { code: 'left-out-workloads', message: 'left out: compile' },
        { code: 'cut-short', message: 'its time was over before its runs were' },
        { code: 'runs-disturbed', message: '3 runs disturbed' },
      ],
    });
  });

  it('finds an inventory odd that is not the expected one, unless it was accepted', () => {
    const [baseline, ...others] = campaign.rigs;
    const expecting = sampleCampaign({
      rigs: [
        {
          ...baseline,
          expect: [{ path: 'board.name', text: 'Example Board One', number: null }],
        },
        ...others,
      ],
    });
    const inventory = {
      ...sampleInventory,
      sections: {
        board: {
          readings: { name: { value: 'Example Board Two', unit: null, source: '/sys' } },
          items: {},
        },
      },
    };
    const cells = (changes: Partial<CampaignSitting>) =>
      campaignProgress(expecting, digest, [sitting('first-8', 1, { inventory, ...changes })])
        .rows[0]?.cells[0];
    expect(cells({})).toMatchObject({
      state: 'odd',
      oddities: [
        {
          code: 'unexpected-inventory',
          message: 'board.name is Example Board Two, expected Example Board One',
        },
      ],
    });
    const accepted = [
      { path: 'board.name', from: 'Example Board One', to: 'Example Board Two', reason: 'renamed' },
    ];
    expect(cells({ accepted })).toMatchObject({ state: 'done' });
    // Nothing was read: that is no sign of another board.
    expect(cells({ inventory: sampleInventory })).toMatchObject({ state: 'done' });
  });

  it('lets an open sitting count only while nothing was begun after it', () => {
    const open = sitting('first-8', 1, { state: 'interrupted' });
    expect(states([open], 'first-8')).toEqual(['open', 'to-do', 'to-do']);
    const after = [open, sitting('first-8', 2)];
    expect(states(after, 'first-8')).toEqual(['open', 'done', 'to-do', 'to-do']);
    const elsewhere = [open, sitting('second-8', 2)];
    expect(states(elsewhere, 'first-8')).toEqual(['open', 'to-do', 'to-do', 'to-do']);
  });

  it('takes for the return only what comes after the last sitting of any other rig', () => {
    const own = [1, 2, 3].map((hour) => sitting('first-8', hour));
    expect(states([...own, sitting('first-8', 4)], 'first-8')).toHaveLength(4);
    const others = labels.slice(1).map((label, at) => sitting(label, 10 + at));
    const returned = [...own, ...others, sitting('first-8', 20, { assembly: 2 })];
    expect(states(returned, 'first-8')).toEqual(['done', 'done', 'done']);
    expect(states(returned, 'first-8', true)).toEqual(['done', 'to-do']);
    // Another rig after it: no return any more, and nothing of it is lost.
    const later = [...returned, sitting('second-8', 21)];
    expect(states(later, 'first-8')).toEqual(['done', 'done', 'done', 'done']);
    expect(states(later, 'first-8', true)).toEqual(['to-do', 'to-do']);
  });

  it('lists beside the rows what is of another suite, or repeats a workload', () => {
    const { rows, others } = progressOf([
      sitting('first-8', 1, { digest: 'b'.repeat(64) }),
      sitting('first-8', 2, { isAgain: true }),
      sitting('somebody-elses', 3),
    ]);
    expect(rowOf(rows, 'first-8').counted).toBe(0);
    expect(others.map(({ why }) => why)).toEqual(['other-suite', 'again']);
  });

  it('loses no sitting of a baseline without other rigs', () => {
    const [baseline] = campaign.rigs;
    const alone = sampleCampaign({ rigs: [baseline] });
    const { rows } = campaignProgress(
      alone,
      digest,
      [1, 2, 3, 4].map((hour) => sitting('first-8', hour)),
    );
    expect(rows).toHaveLength(1);
    expect(rows[0]?.cells).toHaveLength(4);
  });
});
