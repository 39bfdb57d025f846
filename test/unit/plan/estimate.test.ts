import { describe, expect, it } from 'vitest';
import type { Suite } from '../../../src/model/suite.ts';
import {
  assumedCommandSeconds,
  assumedShippedSeconds,
  estimateSeconds,
} from '../../../src/plan/estimate.ts';
import { makePlan } from '../../../src/plan/make-plan.ts';
import { sampleSuite, sampleWorkload } from '../../setup/samples.ts';

const shipped = sampleWorkload({
  id: 'shipped',
  program: { kind: 'shipped', name: 'hash', parameters: {} },
  limits: { timeSeconds: 60, outputBytes: 1 },
});
const command = sampleWorkload({ id: 'command', limits: { timeSeconds: 30, outputBytes: 1 } });

function suiteOf(changes: Partial<Suite> = {}): Suite {
  return sampleSuite({
    workloads: [shipped, command],
    repeats: { kind: 'fixed', count: 3 },
    warmUps: 1,
    cooldown: { kind: 'fixed', seconds: 5 },
    ...changes,
  });
}

describe('estimateSeconds', () => {
  it('assumes run times while nothing is measured, and says so', () => {
    const suite = suiteOf();
    const seconds = 4 * (assumedShippedSeconds + assumedCommandSeconds) + 7 * 5;
    expect(estimateSeconds(suite, makePlan(suite))).toEqual({
      seconds,
      secondsWithConditional: seconds,
      atMostSeconds: 4 * (60 + 30) + 7 * 5,
      basis: 'assumed',
    });
  });

  it('assumes no more than the time limit', () => {
    const short = sampleWorkload({ limits: { timeSeconds: 0.5, outputBytes: 1 } });
    const suite = suiteOf({ workloads: [short], cooldown: { kind: 'fixed', seconds: 0 } });
    expect(estimateSeconds(suite, makePlan(suite)).seconds).toBe(4 * 0.5);
  });

  it('goes by measured times where there are some', () => {
    const suite = suiteOf();
    const one = new Map([['command', 1.5]]);
    expect(estimateSeconds(suite, makePlan(suite), one)).toMatchObject({
      seconds: 4 * (assumedShippedSeconds + 1.5) + 7 * 5,
      basis: 'partly-measured',
    });
    const both = new Map([...one, ['shipped', 3]]);
    expect(estimateSeconds(suite, makePlan(suite), both)).toMatchObject({
      seconds: 4 * (3 + 1.5) + 7 * 5,
      basis: 'measured',
    });
  });

  it('tells what is left when given the runs to come', () => {
    const suite = suiteOf();
    const { runs } = makePlan(suite);
    const times = new Map([['command', 1]]);
    const left = runs.slice(2).filter(({ workload }) => workload === 'command');
    expect(estimateSeconds(suite, { runs: left }, times)).toMatchObject({
      seconds: 3 * (1 + 5),
      basis: 'measured',
    });
  });

  it('counts a wait for low load with its least time, and with its longest at most', () => {
    const cooldown = { kind: 'load', below: 0.2, atLeastSeconds: 2, atMostSeconds: 60 } as const;
    const suite = suiteOf({ workloads: [command], cooldown });
    const times = new Map([['command', 1]]);
    expect(estimateSeconds(suite, makePlan(suite), times)).toMatchObject({
      seconds: 4 * 1 + 3 * 2,
      atMostSeconds: 4 * 30 + 3 * 60,
    });
  });

  it('counts a wait for a cool processor alike, or the wait without a sensor where that is longer', () => {
    const until = { kind: 'near-idle', withinKelvin: 3 } as const;
    const times = { atLeastSeconds: 2, atMostSeconds: 60, withoutSensorSeconds: 90 };
    const cooldown = { kind: 'temperature', until, ...times } as const;
    const suite = suiteOf({ workloads: [command], cooldown });
    expect(estimateSeconds(suite, makePlan(suite), new Map([['command', 1]]))).toMatchObject({
      seconds: 4 * 1 + 3 * 2,
      atMostSeconds: 4 * 30 + 3 * 90,
    });
  });

  it('keeps conditional repeats apart', () => {
    const repeats = {
      kind: 'adaptive',
      atLeast: 8,
      atMost: 10,
      untilHalfWidthBelow: 0.01,
    } as const;
    const suite = suiteOf({ workloads: [command], repeats, warmUps: 0 });
    const times = new Map([['command', 1]]);
    expect(estimateSeconds(suite, makePlan(suite), times)).toMatchObject({
      seconds: 8 * 1 + 7 * 5,
      secondsWithConditional: 10 * 1 + 9 * 5,
    });
  });
});
