import { describe, expect, it } from 'vitest';
import type { PlannedRun } from '../../../src/model/plan.ts';
import type { Heart, WatchSnapshot } from '../../../src/model/watch.ts';
import { renderWatch } from '../../../src/report/watch-page.ts';
import { expectGolden } from '../../setup/golden.ts';
import { sampleRun } from '../../setup/samples.ts';

const repeat = (index: number, workload: string, round = 2): PlannedRun => ({
  ...{ index, workload, round },
  ...{ phase: 'repeat', conditional: false },
});
const speed = (value: number) => [{ id: 'speed', value, unit: 'By/s', better: 'higher' } as const];

function snapshot(changes: Partial<WatchSnapshot> = {}): WatchSnapshot {
  return {
    id: '20260131T201500Z-bench-a-harbour-9f3c',
    folder: 'results/20260131T201500Z-bench-a-harbour-9f3c',
    rig: 'bench-a',
    suite: 'harbour',
    startedAt: '2026-01-31T20:15:00.000Z',
    state: 'open',
    sealed: false,
    at: '2026-01-31T22:27:00.000Z',
    heart: { kind: 'beating', ageSeconds: 3 },
    planned: 40,
    done: 23,
    recorded: 23,
    rounds: { repeats: 3, warmUps: 1, isAtMost: false },
    now: { phase: 'run', run: repeat(23, 'pack'), attempt: 1, seconds: 3.7 },
    secondsLeft: 4000,
    deadline: null,
    heat: {
      at: '2026-01-31T22:26:59.000Z',
      celsius: 62.4,
      critical: 95,
      others: [
        { label: 'graphics', celsius: 58.2 },
        { label: 'board', celsius: 44 },
        { label: 'disk', celsius: 41 },
        { label: 'inlet', celsius: 24 },
      ],
      meanClockHz: 3.1e9,
      fastestClockHz: 4.42e9,
    },
    highestCelsius: 81,
    last: [
      { record: sampleRun({ plan: 0, phase: 'warm-up' }), beside: null },
      {
        record: sampleRun({ plan: 1, metrics: speed(37.2e6) }),
        beside: { earlier: 4, median: 36.6e6, low: 36e6, high: 37e6 },
      },
      {
        record: sampleRun({ plan: 2, workload: 'a-rather-long-name-of-a-workload' }),
        beside: { earlier: 1, median: 2.5, low: 2.5, high: 2.5 },
      },
    ],
    next: [repeat(24, 'paint'), repeat(25, 'index'), repeat(26, 'pack', 3)],
    oddities: {
      failedRuns: 1,
      failures: [
        sampleRun({
          ...{ plan: 5, workload: 'paint', outcome: 'failed', metrics: [], attempt: 2 },
          failure: { code: 'time-limit', message: 'still running after 120 s, the limit of paint' },
        }),
      ],
      retried: 1,
      disturbed: { load: 2, swap: 1 },
      throttled: 1,
      parked: ['broken'],
      interruptions: 1,
      damage: null,
    },
    ...changes,
  };
}

const quiet: WatchSnapshot['oddities'] = {
  ...{ failedRuns: 0, failures: [], retried: 0, disturbed: {}, throttled: 0, parked: [] },
  ...{ interruptions: 0, damage: null },
};
const why = { beatAt: '2026-01-31T22:20:00.000Z', ageSeconds: 420, isPidGone: true };

describe('the page of a sitting under way', () => {
  it('says what runs, how far it is, how warm it is, what came last and what was odd', () => {
    expectGolden('watch.txt', `${renderWatch(snapshot(), 80)}\n`);
  });

  it.each([80, 60, 40])('stays within %i columns', (width) => {
    const stale: Heart = { kind: 'stale', why };
    for (const given of [
      snapshot(),
      snapshot({ heart: stale }),
      snapshot({ deadline: why.beatAt }),
    ]) {
      const lines = renderWatch(given, width).split('\n');
      for (const line of lines) expect([...line].length, line).toBeLessThanOrEqual(width);
    }
  });

  it('is short while nothing is odd and no sensor tells', () => {
    const page = renderWatch(
      snapshot({ oddities: quiet, heat: null, highestCelsius: null, last: [] }),
      80,
    );
    for (const word of ['odd', 'processor', 'finished last', 'FAILED', '!']) {
      expect(page).not.toContain(word);
    }
  });

  it('says where a figure lies beside earlier ones of its kind', () => {
    const beside = { earlier: 4, median: 40e6, low: 36e6, high: 44e6 };
    const page = (value: number, earlier = 4): string => {
      const record = sampleRun({ metrics: speed(value) });
      return renderWatch(snapshot({ last: [{ record, beside: { ...beside, earlier } }] }), 80);
    };
    expect(page(41e6)).toContain('2.5 % above the median of 4 earlier\n');
    expect(page(38e6)).toContain('5.0 % below the median of 4 earlier\n');
    expect(page(50e6)).toContain('25 % above the median of 4 earlier, the highest');
    expect(page(30e6)).toContain('25 % below the median of 4 earlier, the lowest');
    expect(page(50e6, 1)).toContain('25 % above the one earlier\n');
    expect(page(40e6)).toContain('as the median of 4 earlier');
  });

  it('calls a stale heartbeat stale, and says what to do; time left and warmth are not told then', () => {
    const page = renderWatch(snapshot({ heart: { kind: 'stale', why } }), 80).replace(/\n */g, ' ');
    expect(page).toContain('STALE: its last heartbeat is 7 min 00 s old and its process is gone');
    expect(page).toContain('steadyrig continue 9f3c');
    expect(page).toContain('last seen running pack, repeat 2 of 3');
    for (const word of [' left', '62 °C', 'next']) expect(page).not.toContain(word);
    expect(page).toContain('highest 81 °C');
  });

  it('does not call it stale while that is in doubt', () => {
    const ahead = { ...why, ageSeconds: -86_400, isPidGone: false };
    const page = renderWatch(snapshot({ heart: { kind: 'doubtful', why: ahead } }), 80);
    expect(page.replace(/\n */g, ' ')).toContain(
      'its last heartbeat lies 24 h 00 min ahead of this clock',
    );
    expect(page).not.toContain('STALE');
  });

  it.each([
    ['interrupted', false, 'interrupted: steadyrig continue 9f3c'],
    ['waiting', false, 'waiting for figures read by hand: steadyrig enter 9f3c'],
    ['complete', true, 'complete and sealed: steadyrig show 9f3c'],
    ['cut-short', true, 'cut-short and sealed: steadyrig show 9f3c'],
  ] as const)('of a sitting that is %s says how it goes on', (state, sealed, expected) => {
    const page = renderWatch(snapshot({ state, sealed, heart: { kind: 'ended' }, now: null }), 80);
    expect(page.replace(/\n */g, ' ')).toContain(expected);
  });
});
