import { describe, expect, it } from 'vitest';
import { EndWatcher, type SittingEnd } from '../../../../src/api/notice/end-watcher.ts';
import type { RunRecord } from '../../../../src/model/run.ts';
import { endNoticeDefinition } from '../../../../src/model/schemas/end-notice-schema.ts';
import type { Sitting } from '../../../../src/model/sitting.ts';
import { sampleRun, sampleSitting } from '../../../setup/samples.ts';

const at = new Date('2026-01-31T20:16:01.000Z');
const subject = { rig: 'bench-a', suite: 'harbour', profile: null };
const folder = '/home/clerk/results/20260131T201500Z-bench-a-harbour-9f3c';
const failure = { code: 'time-limit', message: 'still running in /home/clerk' } as const;
const failed = { outcome: 'failed', failure, metrics: [] } as const;

function ended(
  state: Exclude<Sitting['state'], 'open'>,
  runs: readonly RunRecord[],
  changes: Partial<Sitting> = {},
): SittingEnd {
  const sitting = sampleSitting({ state, ...changes });
  return { ok: true, value: { folder, state, sitting, runs, corrections: [], findings: [] } };
}

const runs = [
  sampleRun({ plan: 0, phase: 'warm-up' }),
  sampleRun({ plan: 1, ...failed }),
  sampleRun({ plan: 1, attempt: 2, disturbances: [{ code: 'load', message: 'busy' }] }),
  sampleRun({ plan: 2, ...failed }),
];

describe('the notice of an end', () => {
  it('counts what stands, and is what its schema says', () => {
    const notice = new EndWatcher(subject).notice(ended('complete', runs), 1, at);
    expect(endNoticeDefinition.parse(notice)).toEqual(notice);
    expect(notice).toMatchObject({
      outcome: 'complete',
      sitting: '20260131T201500Z-bench-a-harbour-9f3c',
      ...{ plannedRuns: 3, recordedRuns: 3, failedRuns: 1, retriedRuns: 1, disturbedRuns: 1 },
      ...{ exitCode: 1, text: 'bench-a: harbour complete, 3 of 3 runs, 1 FAILED' },
      startedAt: '2026-01-31T20:15:00.000Z',
    });
  });

  it.each([
    ['cut-short', 'ended with its time'],
    ['waiting', 'waiting for figures'],
    ['interrupted', 'can be continued'],
  ] as const)('of a sitting that is %s says so', (state, text) => {
    const notice = new EndWatcher(subject).notice(ended(state, [sampleRun()]), 4, at);
    expect(notice).toMatchObject({ outcome: state, text: expect.stringContaining(text) });
  });

  it('names parked workloads', () => {
    const three = [0, 1, 2].map((plan) => sampleRun({ plan, ...failed }));
    expect(new EndWatcher(subject).notice(ended('complete', three), 1, at)).toMatchObject({
      parked: ['pack'],
      text: expect.stringContaining('parked: pack'),
    });
  });

  it('knows of a failure what the events told before, and gives away no path', () => {
    const watcher = new EndWatcher(subject);
    watcher.see({ type: 'sitting-started', folder, runs: 5, estimateSeconds: 9 });
    const [planned] = sampleSitting().plan.runs;
    if (planned === undefined) throw new Error('no run');
    watcher.see({ type: 'run-finished', run: planned, record: sampleRun({ ...failed }) });
    watcher.see({ type: 'workload-parked', workload: 'paint', reason: 'x' });
    const problem = {
      code: 'write-failed',
      ...{ file: '/home/clerk', line: null, column: null },
      message: 'ENOSPC: no space left on device, write /home/clerk/results',
    } as const;
    const written = watcher.notice({ ok: false, error: { kind: 'write-failed', problem } }, 4, at);
    expect(endNoticeDefinition.parse(written)).toEqual(written);
    expect(written).toMatchObject({
      ...{ outcome: 'write-failed', plannedRuns: 5, recordedRuns: 1, failedRuns: 1 },
      ...{ parked: ['paint'], startedAt: null, exitCode: 4 },
    });
    const internal = watcher.notice(null, 70, at);
    expect(internal).toMatchObject({ outcome: 'internal-error', exitCode: 70 });
    expect(JSON.stringify([written, internal])).not.toContain('/home');
  });

  it('of a refusal has no sitting and no runs', () => {
    const refused = { ok: false, error: { kind: 'unfit', findings: [] } } as const;
    expect(new EndWatcher(subject).notice(refused, 3, at)).toMatchObject({
      ...{ outcome: 'refused', sitting: null, plannedRuns: null, recordedRuns: 0 },
      reason: 'unfit',
      text: 'bench-a: harbour was not measured: the rig is unfit',
    });
  });
});
