import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openDeadline } from '../../../src/api/sitting/open-deadline.ts';
import type { RunRecord } from '../../../src/model/run.ts';
import { drivenClock } from '../../setup/driven-clock.ts';
import { sampleRun, sampleSuite, sampleWorkload } from '../../setup/samples.ts';
import { simulatePlan } from '../../setup/simulated-plan.ts';

const suite = sampleSuite({ warmUps: 0, repeats: { kind: 'fixed', count: 9 } });

describe('a deadline', () => {
  it('lets no run start that is not expected to end before, a tenth added', async () => {
    const run = async (deadlineSeconds: number): Promise<number> => {
      const { result } = await simulatePlan(suite, {
        deadlineSeconds,
        runs: () => ({ seconds: 10 }),
      });
      return result.runs.length;
    };
    expect(await run(30.9)).toBe(2);
    expect(await run(31)).toBe(3);
  });

  it('ends the sitting early for that cause, and a sitting that is done before is complete', async () => {
    const early = await simulatePlan(suite, { deadlineSeconds: 5 });
    expect([early.result.complete, early.stop.cause]).toEqual([false, 'deadline']);
    const whole = await simulatePlan(suite, { deadlineSeconds: 500 });
    expect([whole.result.complete, whole.stop.cause]).toEqual([true, null]);
  });

  it('counts the usual cooldown, and checks again after one that took longer', async () => {
    const cooled = { ...suite, cooldown: { kind: 'fixed', seconds: 20 } } as const;
    const runs = (): { seconds: number } => ({ seconds: 10 });
    const counted = await simulatePlan(cooled, { deadlineSeconds: 40, runs });
    expect([counted.result.runs.length, counted.seconds]).toEqual([1, 10]);
    const slow = {
      ...suite,
      cooldown: { kind: 'load', below: 0.1, atLeastSeconds: 1, atMostSeconds: 50 },
    } as const;
    const waited = await simulatePlan(slow, { deadlineSeconds: 40, runs });
    expect(waited.result.runs).toHaveLength(1);
    expect(waited.seconds).toBeGreaterThan(40);
  });

  it('goes by the longest run, of those before the sitting was continued too', async () => {
    const long = sampleRun({
      accounting: { ...sampleRun().accounting, wallSeconds: 100 } as RunRecord['accounting'],
    });
    const recorded = { runs: [long], corrections: [] };
    const { result } = await simulatePlan(suite, { deadlineSeconds: 109, recorded });
    expect(result.runs).toHaveLength(1);
  });

  it('holds for further attempts as well', async () => {
    const again = { ...suite, retry: { failed: 1, disturbed: 0 } };
    const { result } = await simulatePlan(again, {
      ...{ deadlineSeconds: 15, runs: () => ({ seconds: 10, good: false }) },
    });
    expect(result).toMatchObject({ complete: false, runs: { length: 1 } });
  });

  it('leaves equal repeats of all workloads, give or take one, and is kept', async () => {
    const times = fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 1, maxLength: 5 });
    await fc.assert(
      fc.asyncProperty(
        ...([times, fc.integer({ min: 0, max: 400 }), fc.nat(2 ** 32 - 1), fc.nat(2)] as const),
        async (seconds, deadlineSeconds, seed, warmUps) => {
          const [first, ...others] = seconds.map((_, index) => sampleWorkload({ id: `w${index}` }));
          const shuffled = sampleSuite({
            ...{ order: 'shuffled', seed, warmUps, repeats: { kind: 'fixed', count: 4 } },
            workloads: [first ?? sampleWorkload(), ...others],
          });
          const { result, seconds: end } = await simulatePlan(shuffled, {
            deadlineSeconds,
            runs: (workload) => ({ seconds: seconds[Number(workload.slice(1))] ?? 1 }),
          });
          const counts = shuffled.workloads.map(
            ({ id }) =>
              result.runs.filter((run) => run.workload === id && run.phase === 'repeat').length,
          );
          expect(Math.max(...counts) - Math.min(...counts)).toBeLessThanOrEqual(1);
          // Only a workload that was never measured before can take longer than expected.
          if (warmUps > 0 && Math.max(...counts) > 0)
            expect(end).toBeLessThanOrEqual(deadlineSeconds);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('openDeadline', () => {
  const clock = drivenClock();
  const at = (seconds: number): string =>
    new Date(clock.now().getTime() + seconds * 1000).toISOString();

  it('is not moved by setting the clock', async () => {
    const deadline = openDeadline(at(3600), clock);
    clock.setWall(new Date(clock.now().getTime() + 86_400_000));
    await clock.pass(600);
    expect(deadline?.secondsLeft()).toBeCloseTo(3000, 3);
    clock.setWall(new Date(clock.now().getTime() - 2 * 86_400_000));
    expect(deadline?.secondsLeft()).toBeCloseTo(3000, 3);
  });

  it('is read from the wall clock anew, as after a reboot', () => {
    expect(openDeadline(at(-60), clock)?.secondsLeft()).toBeCloseTo(-60, 3);
  });

  it('goes on while the machine sleeps', () => {
    let uptime = 50;
    const sleeping = { ...clock, uptimeSeconds: () => uptime };
    const deadline = openDeadline(at(3600), sleeping);
    uptime += 3000;
    expect(deadline?.secondsLeft()).toBeCloseTo(600, 3);
  });

  it('is not there where none was asked for', () => {
    expect(openDeadline(null, clock)).toBeNull();
  });
});
