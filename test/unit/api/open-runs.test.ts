import { describe, expect, it } from 'vitest';
import { type OpenRuns, openRuns } from '../../../src/api/open-runs.ts';
import { endState } from '../../../src/api/sitting/end-state.ts';
import type { RunRecord } from '../../../src/model/run.ts';
import type { Sitting } from '../../../src/model/sitting.ts';
import type { Suite } from '../../../src/model/suite.ts';
import { makePlan } from '../../../src/plan/make-plan.ts';
import {
  sampleHandRun,
  sampleHandWorkload,
  sampleRun,
  sampleSitting,
  sampleSuite,
  sampleWorkload,
} from '../../setup/samples.ts';

const suite = sampleSuite({
  ...{ warmUps: 0, repeats: { kind: 'fixed', count: 3 }, retry: { failed: 1, disturbed: 0 } },
  workloads: [sampleWorkload(), sampleWorkload({ id: 'sort' }), sampleHandWorkload()],
});

function sittingOf(of: Suite = suite, changes: Partial<Sitting> = {}): Sitting {
  return sampleSitting({ plan: makePlan(of), state: 'open', ...changes });
}

/** Records of planned runs; those named `failed` failed. */
function recorded(plans: readonly number[], failed: readonly number[] = []): readonly RunRecord[] {
  const { runs } = makePlan(suite);
  return plans.map((plan) => {
    const planned = runs[plan];
    if (planned === undefined) throw new Error(`no planned run ${plan}`);
    const { workload, round } = planned;
    if (workload === 'reel') return sampleHandRun(plan, 4120, { round });
    const failure = { code: 'time-limit', message: 'too long' } as const;
    return failed.includes(plan)
      ? sampleRun({ plan, round, workload, outcome: 'failed', failure, metrics: [] })
      : sampleRun({ plan, round, workload });
  });
}

const indexes = ({ measured, byHand, cutOff }: OpenRuns): readonly (readonly number[])[] =>
  [measured, byHand, cutOff].map((runs) => runs.map(({ index }) => index));
const openOf = (runs: readonly RunRecord[], sitting = sittingOf()): readonly unknown[] =>
  indexes(openRuns(suite, sitting, { runs, corrections: [] }));

describe('openRuns', () => {
  it('tells runs without a record, and those whose attempts are not over', () => {
    expect(openOf(recorded([0, 1, 2, 3], [1]))).toEqual([[1, 4, 6, 7], [5, 8], []]);
    const again = [
      ...recorded([0, 1], [1]),
      ...recorded([1], [1]).map((run) => ({ ...run, attempt: 2 })),
    ];
    expect(openOf(again)).toEqual([[3, 4, 6, 7], [2, 5, 8], []]);
  });

  it('wants a run that was lost, one read by hand too', () => {
    const failure = { code: 'lost', message: 'power cut' } as const;
    const lost = recorded([0, 1, 2]).map((run) => ({
      ...run,
      ...{ outcome: 'failed' as const, failure, metrics: [], entry: null },
    }));
    expect(openOf(lost)).toEqual([[0, 1, 3, 4, 6, 7], [2, 5, 8], []]);
  });

  it('wants no run of a parked workload', () => {
    const parking = { ...suite, parkAfter: 2 };
    const runs = recorded([0, 1, 2, 3, 4], [1, 4]);
    const open = openRuns(parking, sittingOf(parking), { runs, corrections: [] });
    expect(indexes(open)).toEqual([[6], [5, 8], []]);
  });

  it('of a sitting whose time was over wants figures of the rounds that were begun alone', () => {
    const interruptions = [{ at: '2026-02-01T06:00:00.000Z', cause: 'deadline', runs: 4 }] as const;
    const waiting = sittingOf(suite, { state: 'waiting', interruptions });
    expect(openOf(recorded([0, 1, 3]), waiting)).toEqual([[], [2, 5], [4, 6, 7, 8]]);
    // Taken up again, everything is wanted.
    expect(openOf(recorded([0, 1, 3]), { ...waiting, state: 'open' })[0]).toEqual([4, 6, 7]);
  });
});

describe('endState', () => {
  const stateOf = (
    runs: readonly RunRecord[],
    { complete = false, isOver = true, of = suite } = {},
  ): string =>
    endState(of, sittingOf(of), { runs, corrections: [], complete, leftForLater: [] }, isOver);

  it.each([
    ['every run is there', recorded([0, 1, 2, 3, 4, 5, 6, 7, 8]), { complete: true }, 'complete'],
    [
      'figures read by hand are missing',
      recorded([0, 1, 3, 4, 6, 7]),
      { complete: true },
      'waiting',
    ],
    ['somebody ended it', recorded([0, 1, 2, 3, 4, 5]), { isOver: false }, 'interrupted'],
    ['its time was over after a whole round', recorded([0, 1, 2, 3, 5]), {}, 'cut-short'],
    ['its time was over with figures to enter', recorded([0, 1, 3]), {}, 'waiting'],
    ['its time was over in the first round', recorded([0, 2]), {}, 'interrupted'],
    ['its time was over before anything', [], {}, 'interrupted'],
    ['a retry of the only round is missing', recorded([0, 1, 2], [1]), {}, 'interrupted'],
  ] as const)('when %s', (_, runs, how, state) => {
    expect(stateOf(runs, how)).toBe(state);
  });

  it('takes a round for whole without the runs of a parked workload', () => {
    expect(stateOf(recorded([0, 1, 2, 3], [1]), { of: { ...suite, parkAfter: 1 } })).toBe(
      'waiting',
    );
  });
});
