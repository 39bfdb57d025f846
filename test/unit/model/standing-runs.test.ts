import { describe, expect, it } from 'vitest';
import type { Disturbance, RunFailureCode, RunRecord } from '../../../src/model/run.ts';
import { standingRuns, supersededRuns } from '../../../src/model/standing-runs.ts';
import { sampleCorrection, sampleHandRun, sampleRun } from '../../setup/samples.ts';

const load: Disturbance = { code: 'load', message: 'other programs took 31 % of the processor' };

function failed(changes: Partial<RunRecord>, code: RunFailureCode = 'time-limit'): RunRecord {
  return sampleRun({
    ...{ outcome: 'failed', failure: { code, message: 'took too long' }, metrics: [] },
    ...changes,
  });
}

const names = (runs: readonly RunRecord[]): readonly string[] =>
  runs.map(({ plan, attempt }) => `${plan}.${attempt}`);

describe('of several attempts at a planned run', () => {
  it.each([
    ['the last one counts', [failed({}), sampleRun({ attempt: 2 })], '0.2'],
    [
      'the last good one counts, though the one before was good and undisturbed to the eye',
      [sampleRun({ disturbances: [load] }), sampleRun({ attempt: 2, disturbances: [load] })],
      '0.2',
    ],
    [
      'the good one counts when the last one failed',
      [sampleRun({ disturbances: [load] }), failed({ attempt: 2 })],
      '0.1',
    ],
    ['the last one counts when all failed', [failed({}), failed({ attempt: 2 }, 'lost')], '0.2'],
  ] as const)('%s', (_, attempts, standing) => {
    expect(names(standingRuns(attempts, []))).toEqual([standing]);
    expect(supersededRuns(attempts)).toHaveLength(1);
  });

  it('the one that counts stands where the first attempt was made', () => {
    const runs = [failed({ plan: 3 }), sampleRun({ plan: 5 }), sampleRun({ plan: 3, attempt: 2 })];
    expect(names(standingRuns(runs, []))).toEqual(['3.2', '5.1']);
    expect(names(supersededRuns(runs))).toEqual(['3.1']);
  });

  it('a correction changes the figure read by hand, which may follow a lost attempt', () => {
    const lost = sampleHandRun(0, 0, {
      ...{ outcome: 'failed', failure: { code: 'lost', message: 'power cut' } },
      ...{ metrics: [], entry: null },
    });
    const runs = [lost, sampleHandRun(0, 4120, { attempt: 2 })];
    const [run] = standingRuns(runs, [sampleCorrection({ from: 4120, to: 4210 })]);
    expect(run?.metrics[0]?.value).toBe(4210);
    expect(runs[1]?.metrics[0]?.value).toBe(4120);
  });
});
