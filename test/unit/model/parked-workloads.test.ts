import { describe, expect, it } from 'vitest';
import { parkedWorkloads } from '../../../src/model/parked-workloads.ts';
import type { RunFailureCode, RunRecord } from '../../../src/model/run.ts';
import { sampleRun, sampleSuite, sampleWorkload } from '../../setup/samples.ts';

const suite = sampleSuite({
  parkAfter: 3,
  workloads: [sampleWorkload(), sampleWorkload({ id: 'sort' })],
});

function runsOf(...told: readonly (RunFailureCode | 'good')[]): readonly RunRecord[] {
  return told.map((what, plan) =>
    what === 'good'
      ? sampleRun({ plan })
      : sampleRun({ plan, outcome: 'failed', failure: { code: what, message: 'no' } }),
  );
}

describe('a workload', () => {
  it('is parked once its last runs failed in a row, attempts that were lost included', () => {
    const runs = runsOf('good', 'time-limit', 'lost', 'time-limit');
    expect([...parkedWorkloads(suite, runs)]).toEqual([
      ['pack', '3 runs failed in a row (time-limit, lost)'],
    ]);
  });

  it.each([
    ['failed too seldom', runsOf('time-limit', 'time-limit')],
    ['was good in between', runsOf('time-limit', 'time-limit', 'good', 'time-limit')],
    ['was ended by the operator', runsOf('time-limit', 'time-limit', 'stopped-by-operator')],
  ])('is not parked when it %s', (_, runs) => {
    expect(parkedWorkloads(suite, runs).size).toBe(0);
  });

  it('is not parked for the failures of another', () => {
    const [one, two, three] = runsOf('lost', 'lost', 'lost');
    const mixed = [one, two, { ...three, workload: 'sort' }] as RunRecord[];
    expect(parkedWorkloads(suite, mixed).size).toBe(0);
  });
});
