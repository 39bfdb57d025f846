import { describe, expect, it } from 'vitest';
import { exclusionsInForce, includedRuns } from '../../../src/model/excluded-runs.ts';
import { sampleExclusion, sampleRun } from '../../setup/samples.ts';

const sitting = sampleExclusion().sitting;

describe('exclusionsInForce', () => {
  it('lets the last line about a run count', () => {
    const lines = [
      sampleExclusion({ plan: 2 }),
      sampleExclusion({ plan: 1, reason: 'first' }),
      sampleExclusion({ plan: 2, excluded: false, reason: 'it was another run' }),
      sampleExclusion({ plan: 1, reason: 'said better' }),
      sampleExclusion({ plan: 3, excluded: false }),
      sampleExclusion({ plan: 3 }),
    ];
    const found = exclusionsInForce(sitting, lines);
    expect(found.map(({ plan, reason }) => [plan, reason])).toEqual([
      [1, 'said better'],
      [3, sampleExclusion().reason],
    ]);
  });
});

describe('includedRuns', () => {
  it('leaves out the very attempt, in this sitting only', () => {
    const runs = [
      sampleRun({ plan: 1, attempt: 1 }),
      sampleRun({ plan: 1, attempt: 2 }),
      sampleRun({ plan: 2 }),
    ];
    const lines = [
      sampleExclusion({ plan: 1, attempt: 2 }),
      sampleExclusion({ plan: 2, sitting: 'another' }),
    ];
    expect(includedRuns(sitting, runs, lines)).toEqual([runs[0], runs[2]]);
    expect(includedRuns('another', runs, lines)).toEqual([runs[0], runs[1]]);
    expect(includedRuns(sitting, runs, [])).toBe(runs);
  });
});
