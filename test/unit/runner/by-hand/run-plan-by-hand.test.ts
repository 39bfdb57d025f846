import { describe, expect, it } from 'vitest';
import { whyUnusual } from '../../../../src/api/why-unusual.ts';
import type { SittingEvent } from '../../../../src/model/event.ts';
import type { Correction, RunRecord } from '../../../../src/model/run.ts';
import type { Suite, Workload } from '../../../../src/model/suite.ts';
import { makePlan } from '../../../../src/plan/make-plan.ts';
import type { Operator } from '../../../../src/runner/by-hand/operator.ts';
import type { Recorded } from '../../../../src/runner/ledger.ts';
import type { RunSetting } from '../../../../src/runner/run-part.ts';
import { type PlanResult, runPlan } from '../../../../src/runner/run-plan.ts';
import { StopControl } from '../../../../src/runner/stop-control.ts';
import {
  sampleCorrection,
  sampleHandRun,
  sampleHandWorkload,
  sampleSuite,
} from '../../../setup/samples.ts';
import { type ScriptedOperator, scriptedOperator } from '../../../setup/scripted-operator.ts';

const [score] = sampleHandWorkload().metrics;

function suiteOf(repeats: number, workload: Workload = sampleHandWorkload()): Suite {
  return sampleSuite({
    repeats: { kind: 'fixed', count: repeats },
    cooldown: { kind: 'fixed', seconds: 30 },
    workloads: [workload],
  });
}

interface Held {
  readonly result: PlanResult;
  readonly events: readonly SittingEvent[];
  /** Runs and corrections in the order they went to the disk. */
  readonly journal: readonly (RunRecord | Correction)[];
}

async function hold(
  suite: Suite,
  operator: Operator | null,
  { stop = new StopControl(), recorded = { runs: [], corrections: [] } as Recorded } = {},
): Promise<Held> {
  const events: SittingEvent[] = [];
  const journal: (RunRecord | Correction)[] = [];
  const setting = {
    clock: {
      now: () => new Date('2026-01-31T20:15:00.000Z'),
      monotonicSeconds: () => 7,
      sleep: async (seconds: number) => {
        if (operator !== null && 'screen' in operator) {
          (operator as ScriptedOperator).screen.push(`waited ${seconds} s`);
        }
      },
    },
    ...{ startSeconds: 2, bootId: 'boot', meter: { name: 'kernel' } },
    literals: [{ text: 'bench-host', kind: 'host' }],
  } as unknown as RunSetting;
  const result = await runPlan(suite, makePlan(suite), recorded, setting, {
    append: async (record) => void journal.push(record),
    correct: async (correction) => void journal.push(correction),
    mark: async () => undefined,
    emit: (event) => void events.push(event),
    ...{ whySettled: () => null, whyUnusual, operator, stop },
    readLoad: async () => null,
    ...{ watchRun: null, betweenRounds: null, deadline: null },
  });
  return { result, events, journal };
}

const values = (runs: readonly RunRecord[]): (number | undefined)[] =>
  runs.map(({ metrics }) => metrics[0]?.value);

describe('a run read by hand', () => {
  it('says what to start, waits, then asks, and records what was typed', async () => {
    const operator = scriptedOperator(['4120', '4130 points']);
    const { result, events } = await hold(suiteOf(2), operator);
    expect(operator.screen).toEqual([
      'By hand: Demo reel (reel, repeat 1)\nStart the demo reel and wait for the score.',
      'Start it now, and type what it shows; or: skip, correct',
      'score (points, higher is better): ',
      'By hand: Demo reel (reel, repeat 2)\nStart the demo reel and wait for the score.',
      'waited 30 s',
      'Start it now, and type what it shows; or: skip, correct',
      'score (points, higher is better): ',
    ]);
    expect(result).toMatchObject({ complete: true, leftForLater: [] });
    expect(result.runs[1]).toEqual(
      sampleHandRun(1, 4130, {
        ...{ sinceStartSeconds: 5, bootId: 'boot', meter: null },
        cooldown: { seconds: 0, ended: 'time-passed', load: null, celsius: null },
      }),
    );
    expect(events.map(({ type }) => type)).toEqual([
      ...['figure-wanted', 'run-finished', 'cooldown-started', 'cooldown-ended'],
      ...['figure-wanted', 'run-finished'],
    ]);
  });

  it('is asked for again until the figure passes', async () => {
    const operator = scriptedOperator(['4,120', '', '4120 s', '100001', '4120']);
    const { result } = await hold(suiteOf(1), operator);
    expect(operator.asked).toHaveLength(5);
    expect(values(result.runs)).toEqual([4120]);
  });

  it('asks whether an unusual figure is kept, and records that it was', async () => {
    const operator = scriptedOperator(['4110', '4120', '4130', '4240', '', '4240', 'y']);
    const { result } = await hold(suiteOf(4), operator);
    expect(operator.asked[4]).toBe(
      'this is 12 standard deviations away from the earlier ones: keep it? [y/N] ',
    );
    expect(values(result.runs)).toEqual([4110, 4120, 4130, 4240]);
    expect(result.runs.map(({ entry }) => entry?.confirmed)).toEqual([false, false, false, true]);
  });

  it('names the value when the earlier figures were all the same', async () => {
    const operator = scriptedOperator(['4120', '4120', '4121', 'no', '4120']);
    const { result } = await hold(suiteOf(3), operator);
    expect(operator.asked).toContain('the earlier ones were all 4120 points: keep it? [y/N] ');
    expect(values(result.runs)).toEqual([4120, 4120, 4120]);
  });

  it('asks for each of its figures in turn', async () => {
    const speed = { ...score, id: 'speed', unit: '{frames}/s' };
    const workload = sampleHandWorkload({
      metrics: [
        score,
        { ...speed, source: { ...score.source, symbol: 'frames/s' } as typeof score.source },
      ],
    });
    const operator = scriptedOperator(['4120', '61.5']);
    const { result } = await hold(suiteOf(1, workload), operator);
    expect(operator.asked[1]).toBe('speed (frames/s, higher is better): ');
    expect(result.runs[0]?.metrics.map(({ id, value }) => [id, value])).toEqual([
      ['score', 4120],
      ['speed', 61.5],
    ]);
  });

  it.each([
    ['skip', 'the word skip'],
    [' SKIP ', 'the word in capitals'],
  ])('is left for later on %j', async (word) => {
    const { result, events } = await hold(suiteOf(2), scriptedOperator([word, '4130']));
    expect(result).toMatchObject({ complete: true, leftForLater: [{ index: 0 }] });
    expect(values(result.runs)).toEqual([4130]);
    expect(events).toContainEqual(
      expect.objectContaining({ type: 'left-for-later', reason: 'the operator skipped it' }),
    );
  });

  it('is left for later when nothing more can be typed', async () => {
    const { result } = await hold(suiteOf(2), scriptedOperator(['4120']));
    expect(result).toMatchObject({ complete: true, leftForLater: [{ index: 1 }] });
  });

  it('is left for later at once, without a cooldown, when nobody can be asked', async () => {
    const { result, events } = await hold(suiteOf(2), null);
    expect(result).toMatchObject({ complete: true, runs: [], leftForLater: { length: 2 } });
    expect(events.map(({ type }) => type)).toEqual(['left-for-later', 'left-for-later']);
  });

  it('records nothing when a stop is asked for meanwhile, and asks nothing more', async () => {
    const stop = new StopControl();
    const operator = scriptedOperator(['4120', () => stop.request('SIGINT'), '1']);
    const { result, events } = await hold(suiteOf(3), operator, { stop });
    expect(result).toMatchObject({ complete: false, leftForLater: [] });
    expect(values(result.runs)).toEqual([4120]);
    expect(operator.asked).toHaveLength(2);
    expect(events.filter(({ type }) => type === 'left-for-later')).toEqual([]);
  });

  it('records nothing when a stop is asked for at the question whether to keep a figure', async () => {
    const stop = new StopControl();
    const operator = scriptedOperator(['4120', '4120', '9', () => stop.request('SIGINT')]);
    const { result } = await hold(suiteOf(3), operator, { stop });
    expect(values(result.runs)).toEqual([4120, 4120]);
  });
});

describe('a correction by the operator', () => {
  it('goes to the journal after the run, with its reason, and the run stays', async () => {
    const operator = scriptedOperator([
      ...['4210', 'correct', '4120', '', 'digits swapped on bench-host', '4130'],
    ]);
    const { result, journal } = await hold(suiteOf(2), operator);
    expect(operator.screen).toContain('correcting reel, repeat 1: score is 4210 points so far');
    expect(operator.screen).toContain('corrected: 4210 points, now 4120 points');
    expect(values(result.runs)).toEqual([4210, 4130]);
    expect(journal.map(({ schema }) => schema)).toEqual([
      ...['steadyrig/run/1', 'steadyrig/correction/1', 'steadyrig/run/1'],
    ]);
    expect(result.corrections).toMatchObject([{ plan: 0, from: 4210, to: 4120 }]);
    expect(result.corrections[0]?.reason).toMatch(/^digits swapped on /);
    expect(result.corrections[0]?.reason).not.toContain('bench-host');
  });

  it('of a figure of the same run is recorded after that run', async () => {
    const second = { ...score, id: 'speed' };
    const workload = sampleHandWorkload({ metrics: [score, second] });
    const operator = scriptedOperator(['4210', 'correct', '4120', 'swapped', '61.5']);
    const { journal, result } = await hold(suiteOf(1, workload), operator);
    expect(journal.map(({ schema }) => schema)).toEqual([
      ...['steadyrig/run/1', 'steadyrig/correction/1'],
    ]);
    expect(values(result.runs)).toEqual([4210]);
    expect(result.corrections).toMatchObject([{ metric: 'score', from: 4210, to: 4120 }]);
  });

  it('made twice starts from the value that stands', async () => {
    const operator = scriptedOperator([
      ...['1', 'correct', '2', 'first', 'correct', '3', 'second', '4'],
    ]);
    const { result } = await hold(suiteOf(2), operator);
    expect(result.corrections.map(({ from, to }) => [from, to])).toEqual([
      [1, 2],
      [2, 3],
    ]);
  });

  it('goes through the same checks as a figure', async () => {
    const operator = scriptedOperator(['1', 'correct', '2,5', '200000', '2.5', 'misread', '4']);
    const { result } = await hold(suiteOf(2), operator);
    expect(result.corrections).toMatchObject([{ to: 2.5 }]);
  });

  it('counts for the plausibility of the figures after it', async () => {
    const operator = scriptedOperator(['9', 'correct', '4110', 'typo', '4120', '4130', '4140']);
    const { result } = await hold(suiteOf(4), operator);
    expect(result.runs.every(({ entry }) => entry?.confirmed === false)).toBe(true);
  });

  it.each([
    ['before any figure', ['correct', '4120', '4130'], 'there is no figure to correct yet'],
    ['to the same value', ['4120', 'correct', '4120', '4130'], 'nothing corrected'],
    ['taken back at the figure', ['4120', 'correct', 'skip', '4130'], 'nothing corrected'],
    ['taken back at the reason', ['4120', 'correct', '1', 'skip', '4130'], 'nothing corrected'],
  ])('%s changes nothing', async (_, answers, told) => {
    const operator = scriptedOperator(answers);
    const { result } = await hold(suiteOf(2), operator);
    expect(operator.screen.join('\n')).toContain(told);
    expect(result.corrections).toEqual([]);
    expect(values(result.runs)).toEqual([4120, 4130]);
  });

  it('reaches figures recorded before the sitting was taken up again', async () => {
    const recorded = {
      runs: [sampleHandRun(0, 4120)],
      corrections: [sampleCorrection({ from: 4120, to: 4210 })],
    };
    const operator = scriptedOperator(['correct', '4211', 'misread', '4130']);
    const { result } = await hold(suiteOf(2), operator, { recorded });
    expect(result.corrections).toMatchObject([{ to: 4210 }, { from: 4210, to: 4211 }]);
  });
});
