import { describe, expect, it } from 'vitest';
import type { Sitting } from '../../../../src/model/sitting.ts';
import { sittingNotes } from '../../../../src/report/story/sitting-notes.ts';
import type { StorySitting } from '../../../../src/report/story/story-facts.ts';
import { sampleStorySitting } from '../../../setup/sample-story.ts';
import {
  sampleCorrection,
  sampleHandRun,
  sampleHandWorkload,
  sampleRun,
  sampleSuite,
} from '../../../setup/samples.ts';

function notes(changes: Partial<StorySitting>, sitting: Partial<Sitting> = {}): string[] {
  return sittingNotes(sampleStorySitting(changes, sitting)).map(
    ({ kind, text }) => `${kind}: ${text}`,
  );
}
const disturbances = [{ code: 'load' as const, message: 'others were busy' }];

describe('what was odd about a sitting', () => {
  it('is nothing where it is sealed and nothing happened', () => {
    expect(notes({})).toEqual([]);
  });

  it('counts failed attempts by workload and reason, past failed warm-ups', () => {
    const failure = { code: 'time-limit' as const, message: 'took longer than 10 s' };
    const failed = { outcome: 'failed' as const, failure, metrics: [] };
    const runs = [
      sampleRun({ plan: 0, phase: 'warm-up', ...failed }),
      sampleRun({ plan: 1, ...failed }),
      sampleRun({ plan: 2, ...failed }),
      sampleRun({ plan: 3, ...failed, failure: { code: 'wrong-output', message: 'sum' } }),
    ];
    expect(notes({ runs })).toEqual([
      'failed-runs: failed attempts: pack: time-limit (2), pack: wrong-output',
    ]);
  });

  it('says of a disturbance that it counts only where the attempt does', () => {
    const again = [
      sampleRun({ plan: 1, attempt: 1, disturbances }),
      sampleRun({ plan: 1, attempt: 2 }),
    ];
    expect(notes({ runs: again })).toEqual([]);
    expect(notes({ runs: [sampleRun({ plan: 1, disturbances })] })).toEqual([
      'disturbances: beside repeats that count: load',
    ]);
  });

  it('tells figures that were corrected by hand, with both values and the reason', () => {
    const suite = {
      ...{ text: '', textSha256: 'b'.repeat(64), redactions: 0 },
      resolved: sampleSuite({ workloads: [sampleHandWorkload()] }),
    };
    const found = notes(
      { runs: [sampleHandRun(0, 4120)], corrections: [sampleCorrection()] },
      { suite },
    );
    expect(found).toEqual([
      'corrections: reel, repeat 1, score: 4120 points, now 4210 points: two digits swapped',
    ]);
  });

  it('tells what was accepted, left out, warned of and interrupted', () => {
    const finding = { workload: null, message: 'is powersave', remedy: 'set it' };
    const found = notes(
      {},
      {
        campaign: {
          ...{ id: 'boards', confirmed: [], answers: [] },
          accepted: [{ path: 'os.kernel', from: '6.1', to: null, reason: 'updated overnight' }],
        },
        leftOut: [{ workload: 'compile', reason: 'gcc is not there' }],
        findings: [
          { check: 'governor', severity: 'warn', ...finding },
          { check: 'timers', severity: 'note', ...finding },
        ],
        interruptions: [
          { at: '2026-01-31T20:20:00.000Z', cause: 'died', runs: 1 },
          { at: '2026-01-31T20:25:00.000Z', cause: 'died', runs: 2 },
        ],
      },
    );
    expect(found).toEqual([
      'accepted-changes: os.kernel is absent, not 6.1; accepted: updated overnight',
      'left-out: compile: gcc is not there',
      'preflight: governor: is powersave',
      'preflight: interrupted and continued: died (2)',
    ]);
  });

  it('tells apart what is not sealed and what was not compared with its seal', () => {
    expect(notes({ isSealed: false, isSealChecked: false })).toEqual([
      'seals: not sealed: nothing tells whether it changed since',
    ]);
    expect(notes({ isSealChecked: false })).toEqual([
      'seals: sealed, but not compared with its seal for this report',
    ]);
  });
});
