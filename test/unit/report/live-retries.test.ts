import { describe, expect, it } from 'vitest';
import type { SittingEvent } from '../../../src/model/event.ts';
import { advanceLive, startLive } from '../../../src/report/live-block.ts';
import { renderRunNotes } from '../../../src/report/run-notes.ts';
import { sampleRun, sampleSitting } from '../../setup/samples.ts';

const [run] = sampleSitting().plan.runs;
if (run === undefined) throw new Error('no planned run');
const finished: SittingEvent = { type: 'run-finished', run, record: sampleRun() };
const retried: SittingEvent = { type: 'run-retried', run, reason: 'the attempt before failed' };

describe('the live display', () => {
  const doneAfter = (...events: readonly SittingEvent[]): number =>
    events.reduce((state, event) => advanceLive(state, event, 0), startLive(0)).done;

  it('counts a run once, however often it is tried', () => {
    expect(doneAfter(finished, retried)).toBe(0);
    expect(doneAfter(finished, retried, finished, retried, finished)).toBe(1);
  });

  it('takes nothing off for a run that another part of the sitting lost', () => {
    expect(doneAfter(retried, finished)).toBe(1);
  });
});

describe('what a page tells of runs', () => {
  it('puts disturbances of one kind together, though each has its own figure', () => {
    const busy = (share: number, round: number) =>
      sampleRun({
        ...{ plan: round, round },
        disturbances: [{ code: 'load', message: `others used ${share} % of the CPUs` }],
      });
    expect(renderRunNotes([busy(31, 1), busy(40, 2), busy(31, 3)])).toEqual([
      'disturbed pack, repeat 1, repeat 2, repeat 3: load: others used 31 % of the\n  CPUs; 1 more like it',
    ]);
  });
});
