import { describe, expect, it } from 'vitest';
import type { SittingEvent } from '../../../src/model/event.ts';
import type { Disturbance, RunRecord } from '../../../src/model/run.ts';
import { standingRuns } from '../../../src/model/standing-runs.ts';
import { StopControl } from '../../../src/runner/stop-control.ts';
import { sampleRun, sampleSuite, sampleWorkload } from '../../setup/samples.ts';
import { simulatePlan } from '../../setup/simulated-plan.ts';

const two = [sampleWorkload(), sampleWorkload({ id: 'sort' })] as const;
const noWarmUps = { warmUps: 0, repeats: { kind: 'fixed', count: 2 } } as const;
const busy: Disturbance = { code: 'load', message: 'other programs took 31 % of the processor' };

const names = (runs: readonly RunRecord[]): readonly string[] =>
  runs.map(({ plan, attempt, outcome }) => `${plan}.${attempt} ${outcome}`);
const only = (
  events: readonly SittingEvent[],
  ...types: readonly SittingEvent['type'][]
): readonly SittingEvent[] => events.filter(({ type }) => types.includes(type));

function lost(plan: number, changes: Partial<RunRecord> = {}): RunRecord {
  return sampleRun({
    ...{ plan, outcome: 'failed', metrics: [], accounting: null },
    ...{ failure: { code: 'lost', message: 'power cut' }, ...changes },
  });
}

describe('a run that failed', () => {
  const suite = sampleSuite({ ...noWarmUps, workloads: two, retry: { failed: 2, disturbed: 0 } });

  it('is tried again right after, with a cooldown of its own, as often as the suite says', async () => {
    const cooled = { ...suite, cooldown: { kind: 'fixed', seconds: 5 } } as const;
    const { story, events, result } = await simulatePlan(cooled, {
      runs: (workload, start) => ({ good: workload === 'sort' || start === 3 }),
    });
    expect(story.slice(0, 8)).toEqual([
      ...['run pack 0.1', 'failed 0.1', 'run pack 0.2', 'failed 0.2', 'run pack 0.3', 'ok 0.3'],
      ...['run sort 1.1', 'ok 1.1'],
    ]);
    expect(result.runs.map(({ cooldown }) => cooldown?.seconds ?? null)).toEqual([
      ...[null, 5, 5, 5],
      ...result.runs.slice(4).map(() => 5),
    ]);
    expect(only(events, 'run-retried').slice(0, 2)).toMatchObject([
      { run: { index: 0 }, reason: 'the attempt before failed, unexpected-exit-code' },
      { run: { index: 0 } },
    ]);
    const standing = standingRuns(result.runs, []);
    expect(standing.find(({ plan }) => plan === 0)).toMatchObject({ attempt: 3, outcome: 'ok' });
  });

  it('keeps the logs of every attempt apart', async () => {
    const { result } = await simulatePlan(suite, {
      runs: (workload, start) => ({ good: workload === 'sort' || start > 1 }),
    });
    const paths = result.runs.map(({ logs }) => logs?.stdout.path);
    expect(paths.slice(0, 2)).toEqual(['logs/0000-pack.stdout.txt', 'logs/0000.2-pack.stdout.txt']);
    expect(new Set(paths).size).toBe(paths.length);
  });

  it('is not tried again once a stop is asked for, and that is an early end', async () => {
    const stop = new StopControl();
    const { result, story } = await simulatePlan(suite, {
      runs: () => {
        stop.request('SIGINT');
        return { good: false };
      },
      hooks: { stop },
    });
    expect(story).toEqual(['run pack 0.1', 'failed 0.1']);
    expect(result.complete).toBe(false);
  });

  it('has its attempts from before counted when the sitting goes on', async () => {
    const failure = { code: 'time-limit', message: 'too long' } as const;
    const before = [1, 2].map((attempt) =>
      sampleRun({ attempt, outcome: 'failed', failure, metrics: [] }),
    );
    const { story } = await simulatePlan(
      { ...suite, parkAfter: 9 },
      { recorded: { runs: before, corrections: [] }, runs: (_, start) => ({ good: start > 1 }) },
    );
    expect(story.slice(0, 4)).toEqual([
      ...['run pack 0.3', 'failed 0.3', 'run sort 1.1', 'failed 1.1'],
    ]);
    expect(story).toContain('run sort 1.2');
  });
});

describe('a run that was lost', () => {
  it('is tried again in its place, though the suite allows no retries', async () => {
    const suite = sampleSuite({ ...noWarmUps, workloads: two });
    const { story, result, events } = await simulatePlan(suite, {
      recorded: { runs: [sampleRun({ plan: 0 }), lost(1, { workload: 'sort' })], corrections: [] },
    });
    expect(story[0]).toBe('run sort 1.2');
    expect(only(events, 'run-retried')).toMatchObject([{ reason: 'the attempt before was lost' }]);
    expect(result).toMatchObject({ complete: true, runs: { length: 5 } });
  });

  it('over and over, as by a workload that brings the machine down, parks the workload', async () => {
    const suite = sampleSuite({ ...noWarmUps, workloads: two, parkAfter: 3 });
    const runs = [1, 2, 3].map((attempt) => lost(0, { attempt }));
    const { story, events } = await simulatePlan(suite, { recorded: { runs, corrections: [] } });
    expect(story.filter((line) => line.includes('pack'))).toEqual([]);
    expect(only(events, 'workload-parked')).toHaveLength(1);
  });
});

describe('a workload whose runs fail in a row', () => {
  const suite = sampleSuite({
    ...{ warmUps: 0, repeats: { kind: 'fixed', count: 5 }, workloads: two },
    ...{ parkAfter: 3, retry: { failed: 1, disturbed: 0 } },
  });
  const runs = (workload: string): { good: boolean } => ({ good: workload === 'sort' });

  it('is parked, told of once, and its other runs are left out', async () => {
    const { result, events } = await simulatePlan(suite, { runs });
    expect(names(result.runs.filter(({ workload }) => workload === 'pack'))).toEqual([
      ...['0.1 failed', '0.2 failed', '2.1 failed'],
    ]);
    expect(result.runs.filter(({ workload }) => workload === 'sort')).toHaveLength(5);
    expect(result.complete).toBe(true);
    expect(only(events, 'workload-parked')).toEqual([
      {
        type: 'workload-parked',
        workload: 'pack',
        reason: '3 runs failed in a row (unexpected-exit-code)',
      },
    ]);
    expect(only(events, 'run-left-out')).toHaveLength(3);
  });

  it('stays parked when the sitting goes on, wherever it was interrupted', async () => {
    const whole = await simulatePlan(suite, { runs });
    for (let count = 1; count < whole.result.runs.length; count += 1) {
      const recorded = { runs: whole.result.runs.slice(0, count), corrections: [] };
      const { result } = await simulatePlan(suite, { runs, recorded });
      expect(names(result.runs), `interrupted after ${count}`).toEqual(names(whole.result.runs));
    }
  });
});

describe('what goes on beside a run', () => {
  const suite = sampleSuite({ ...noWarmUps, retry: { failed: 0, disturbed: 1 } });

  it('is noted on it, and the run is tried again as often as the suite says', async () => {
    let watched = 0;
    const watchRun = async () => ({
      end: async () => {
        watched += 1;
        return watched <= 2 ? [busy] : [];
      },
    });
    const { result, story } = await simulatePlan(suite, { hooks: { watchRun } });
    expect(story.filter((line) => line.startsWith('run'))).toEqual([
      ...['run pack 0.1', 'run pack 0.2', 'run pack 1.1'],
    ]);
    expect(result.runs.map(({ disturbances }) => disturbances)).toEqual([[busy], [busy], []]);
  });

  it('is watched from right before the program until right after, once for each attempt', async () => {
    const order: string[] = [];
    const note = (what: string): void => void order.push(what);
    await simulatePlan(suite, {
      runs: () => {
        note('program');
        return {};
      },
      hooks: {
        append: async () => note('record'),
        watchRun: async () => {
          note('watch');
          return {
            end: async () => {
              note('end');
              return [];
            },
          };
        },
      },
    });
    const once = ['watch', 'program', 'end', 'record'];
    expect(order).toEqual([...once, ...once]);
  });

  it('before a round is noted on every run of that round, and looked for again before a retry', async () => {
    const seen: string[] = [];
    const rounds = sampleSuite({
      ...{ workloads: two, warmUps: 1, retry: { failed: 0, disturbed: 1 } },
    });
    const { result } = await simulatePlan(rounds, {
      hooks: {
        betweenRounds: async ({ phase, round, workload }) => {
          seen.push(`${phase} ${round} ${workload}`);
          return seen.length === 1 ? [busy] : [];
        },
      },
    });
    expect(seen).toEqual(['repeat 1 pack', 'repeat 1 pack', 'repeat 2 pack']);
    const noted = result.runs.filter(({ disturbances }) => disturbances.length > 0);
    expect(names(noted)).toEqual(['2.1 ok']);
  });

  it('before a round stays noted on the others of it when nothing is tried again', async () => {
    const rounds = sampleSuite({ ...noWarmUps, workloads: two });
    const { result } = await simulatePlan(rounds, {
      hooks: { betweenRounds: async () => [busy] },
    });
    expect(result.runs.map(({ disturbances }) => disturbances.length)).toEqual([0, 0, 1, 1]);
  });
});

describe('adaptive repeats', () => {
  const suite = sampleSuite({
    ...{ warmUps: 0, workloads: two },
    ...{ repeats: { kind: 'adaptive', atLeast: 8, atMost: 12, untilHalfWidthBelow: 0.05 } },
    ...{ retry: { failed: 1, disturbed: 1 } },
  });
  const steady = (workload: string, start: number): { seconds: number } => ({
    seconds: workload === 'sort' ? 1 + start : 10 + (start % 2) / 10,
  });

  it('end at the same run whether or not the sitting was interrupted', async () => {
    const whole = await simulatePlan(suite, { runs: steady });
    const packs = whole.result.runs.filter(({ workload }) => workload === 'pack');
    expect(packs).toHaveLength(8);
    for (const count of [3, 15, 16, 17]) {
      const recorded = { runs: whole.result.runs.slice(0, count), corrections: [] };
      const { result } = await simulatePlan(suite, { recorded, runs: steady });
      expect(result.runs.filter(({ workload }) => workload === 'pack')).toHaveLength(8);
    }
  });

  it('need the least number of good runs that count: attempts do not add up', async () => {
    const failing = (workload: string, start: number): { seconds: number; good: boolean } => ({
      ...steady(workload, start),
      good: workload === 'sort' || start % 3 !== 0,
    });
    const { result } = await simulatePlan(suite, { runs: failing });
    const standing = standingRuns(result.runs, []).filter(({ workload }) => workload === 'pack');
    expect(standing.filter(({ outcome }) => outcome === 'ok')).toHaveLength(8);
    expect(result.runs.filter(({ workload }) => workload === 'pack').length).toBeGreaterThan(8);
  });
});
