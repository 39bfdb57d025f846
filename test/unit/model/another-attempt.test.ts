import { describe, expect, it } from 'vitest';
import { whyAnotherAttempt } from '../../../src/model/another-attempt.ts';
import type { RunFailureCode, RunRecord, StepRecord } from '../../../src/model/run.ts';
import { sampleHandRun, sampleRun } from '../../setup/samples.ts';

type Told = RunFailureCode | 'good' | 'disturbed';

function attempts(...told: readonly [Told, ...Told[]]): [RunRecord, ...RunRecord[]] {
  const [first, ...others] = told.map((what, index) => {
    const attempt = index + 1;
    if (what === 'good') return sampleRun({ attempt });
    if (what === 'disturbed') {
      return sampleRun({ attempt, disturbances: [{ code: 'login', message: 'somebody came' }] });
    }
    return sampleRun({ attempt, outcome: 'failed', failure: { code: what, message: 'no' } });
  });
  if (first === undefined) throw new Error('no attempt');
  return [first, ...others];
}

const twice = { failed: 2, disturbed: 1 };
const never = { failed: 0, disturbed: 0 };

describe('a planned run', () => {
  it.each([
    ['good', attempts('good'), twice],
    ['failed, without retries', attempts('time-limit'), never],
    ['disturbed, without retries', attempts('disturbed'), never],
    ['failed as often as is tried', attempts('time-limit', 'time-limit', 'wrong-output'), twice],
    ['disturbed as often as is tried', attempts('disturbed', 'disturbed'), twice],
    ['good after a failure', attempts('time-limit', 'good'), twice],
    ['ended by the operator', attempts('stopped-by-operator'), twice],
    ['without its program', attempts('program-not-found'), twice],
    ['with a program that cannot be started', attempts('program-not-executable'), twice],
    ['without its input', attempts('input-not-prepared'), twice],
    ['too hot twice', attempts('temperature-limit', 'temperature-limit'), twice],
  ] as const)('is not tried again: %s', (_, own, retry) => {
    expect(whyAnotherAttempt(retry, own)).toBeNull();
  });

  it.each([
    ['failed', attempts('time-limit'), twice, 'the attempt before failed, time-limit'],
    ['failed twice', attempts('time-limit', 'wrong-output'), twice, 'failed, wrong-output'],
    ['too hot once', attempts('temperature-limit'), twice, 'failed, temperature-limit'],
    ['disturbed', attempts('disturbed'), twice, 'the attempt before was disturbed, login'],
    ['failed after it was disturbed', attempts('disturbed', 'time-limit'), twice, 'failed'],
    ['lost, even without retries', attempts('lost'), never, 'the attempt before was lost'],
    ['lost over and over', attempts('lost', 'lost', 'lost'), never, 'was lost'],
    [
      'lost, which uses up no retry',
      attempts('lost', 'time-limit', 'lost', 'time-limit'),
      twice,
      'failed',
    ],
  ] as const)('is tried again: %s', (_, own, retry, why) => {
    expect(whyAnotherAttempt(retry, own)).toContain(why);
  });

  it('is not tried again when a step of it cannot get better', () => {
    const [run] = attempts('step-failed');
    const step: Omit<StepRecord, 'failure'> = {
      ...{ id: 'unpack', part: 'set-up', exit: null, stopped: null, accounting: null },
      ...{ leftBehind: 0, logs: null },
    };
    const of = (code: RunFailureCode): RunRecord => ({
      ...run,
      steps: [{ ...step, failure: { code, message: 'no' } }],
    });
    expect(whyAnotherAttempt(twice, [of('program-not-found')])).toBeNull();
    expect(whyAnotherAttempt(twice, [of('unexpected-exit-code')])).not.toBeNull();
  });

  it('that is read by hand is never read again', () => {
    const run = sampleHandRun(0, 1, { disturbances: [{ code: 'load', message: 'busy' }] });
    expect(whyAnotherAttempt(twice, [run])).toBeNull();
  });
});
