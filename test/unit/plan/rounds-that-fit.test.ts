import { describe, expect, it } from 'vitest';
import { makePlan } from '../../../src/plan/make-plan.ts';
import { roundsThatFit } from '../../../src/plan/rounds-that-fit.ts';
import { sampleSuite, sampleWorkload } from '../../setup/samples.ts';

describe('roundsThatFit', () => {
  const suite = sampleSuite({
    ...{
      warmUps: 1,
      repeats: { kind: 'fixed', count: 3 },
      cooldown: { kind: 'fixed', seconds: 5 },
    },
    workloads: [sampleWorkload(), sampleWorkload({ id: 'sort' })],
  });
  const measured = new Map([
    ['pack', 10],
    ['sort', 20],
  ]);
  // Warm-ups 10 + 5 + 20, then each round 5 + 10 + 5 + 20.
  it.each([
    [0, 0],
    [74.9, 0],
    [75, 1],
    [114.9, 1],
    [115, 2],
    [155, 3],
    [1e6, 3],
  ])('into %d s fit %d whole rounds after the warm-ups', (seconds, rounds) => {
    expect(roundsThatFit(suite, makePlan(suite), seconds, measured)).toEqual({
      ...{ seconds, rounds, planned: 3 },
    });
  });

  it('counts conditional rounds as if they were needed', () => {
    const repeats = {
      kind: 'adaptive',
      atLeast: 8,
      atMost: 12,
      untilHalfWidthBelow: 0.01,
    } as const;
    const adaptive = { ...suite, repeats };
    expect(roundsThatFit(adaptive, makePlan(adaptive), 35 + 40 * 10, measured)).toMatchObject({
      ...{ rounds: 10, planned: 12 },
    });
  });
});
