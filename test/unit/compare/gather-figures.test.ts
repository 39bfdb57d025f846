import { describe, expect, it } from 'vitest';
import { compareRigs } from '../../../src/compare/compare-rigs.ts';
import {
  gatherFigures,
  type StoredSitting,
  startedPrograms,
} from '../../../src/compare/gather-figures.ts';
import { type Exclusion, exclusionSchema } from '../../../src/model/exclusion.ts';
import type { RunRecord } from '../../../src/model/run.ts';
import type { RunTelemetry } from '../../../src/model/telemetry.ts';
import { sampleRequest } from '../../setup/figures.ts';
import {
  sampleCorrection,
  sampleHandRun,
  sampleHandWorkload,
  sampleInventory,
  sampleRun,
  sampleSitting,
  sampleSuite,
  sampleWorkload,
} from '../../setup/samples.ts';
import { unwrap } from '../../setup/unwrap.ts';

function timed(plan: number, seconds: number, changes: Partial<RunRecord> = {}): RunRecord {
  return sampleRun({
    plan,
    metrics: [{ id: 'wall', value: seconds, unit: 's', better: 'lower' }],
    ...changes,
  });
}

function stored(runs: readonly RunRecord[], changes: Partial<StoredSitting> = {}): StoredSitting {
  return {
    sitting: sampleSitting(),
    inventory: sampleInventory,
    runs,
    corrections: [],
    exclusions: [],
    ...changes,
  };
}

const failed: Partial<RunRecord> = {
  outcome: 'failed',
  failure: { code: 'time-limit', message: 'too slow' },
  metrics: [],
};

function exclusion(changes: Partial<Exclusion>): Exclusion {
  return {
    schema: exclusionSchema,
    sitting: sampleSitting().id,
    plan: 2,
    attempt: 1,
    excluded: true,
    reason: 'a door was opened',
    at: '2026-01-31T21:00:00.000Z',
    ...changes,
  };
}

describe('the figures of a stored sitting', () => {
  it('are those of good measured repeats: of several attempts the one that counts', () => {
    const [pack] = gatherFigures(
      stored([
        timed(0, 9, { phase: 'warm-up' }),
        timed(1, 2.5),
        timed(2, 0, failed),
        timed(2, 2.6, { attempt: 2 }),
        timed(3, 0, failed),
      ]),
    ).workloads;
    expect(pack?.metrics[0]?.values).toEqual([2.5, 2.6]);
    expect([pack?.failed, pack?.disturbed, pack?.excluded]).toEqual([2, 0, []]);
  });

  it('have corrections applied', () => {
    const suite = sampleSuite({ workloads: [sampleHandWorkload()] });
    const sitting = sampleSitting({ suite: { ...sampleSitting().suite, resolved: suite } });
    const [reel] = gatherFigures(
      stored([sampleHandRun(0, 4120)], { sitting, corrections: [sampleCorrection()] }),
    ).workloads;
    expect(reel?.metrics[0]?.values).toEqual([4210]);
  });

  it('name the repeats that the operator left out, unless taken back', () => {
    const runs = [timed(1, 2.5), timed(2, 2.6), timed(3, 2.7)];
    const excluded = (...exclusions: Exclusion[]): unknown =>
      gatherFigures(stored(runs, { exclusions })).workloads[0]?.excluded;
    expect(excluded(exclusion({}))).toEqual([1]);
    expect(excluded(exclusion({}), exclusion({ excluded: false }))).toEqual([]);
    expect(excluded(exclusion({ sitting: 'another' }), exclusion({ attempt: 2 }))).toEqual([]);
  });

  it('tell disturbances, throttling and starting temperatures', () => {
    const telemetry = {
      startTemperature: 40,
      throttleEvents: 1,
      maxTemperature: null,
    } as RunTelemetry;
    const [pack] = gatherFigures(
      stored([
        timed(1, 2.5, { disturbances: [{ code: 'load', message: 'busy' }], telemetry }),
        timed(2, 2.6, { telemetry: { ...telemetry, startTemperature: 44, throttleEvents: 0 } }),
        timed(3, 2.6),
      ]),
    ).workloads;
    expect([pack?.disturbed, pack?.throttled, pack?.startCelsius]).toEqual([1, 1, 42]);
  });

  it('keep figures that are bounds, and those marked as invented, known as such', () => {
    const below = timed(1, 2.5, {
      metrics: [{ id: 'wall', value: 2.5, unit: 's', better: 'lower', bound: 'below' }],
    });
    const sitting = sampleSitting({
      conditions: { ambientCelsius: null, notes: 'Invented data for a demonstration' },
    });
    const figures = gatherFigures(stored([below], { sitting }));
    expect([figures.workloads[0]?.metrics[0]?.bounded, figures.invented]).toEqual([true, true]);
    expect(gatherFigures(stored([])).invented).toBe(false);
  });

  it('can be compared', () => {
    const runs = [timed(1, 2.5), timed(2, 2.6)];
    const [own, other] = [gatherFigures(stored(runs)), gatherFigures(stored(runs))];
    const found = unwrap(
      compareRigs(
        sampleRequest({ label: 'bench-a', sittings: [own] }, [
          { label: 'bench-b', sittings: [other] },
        ]),
      ),
    );
    expect(found.rows[0]).toMatchObject({
      workload: 'pack',
      metric: 'wall',
      ratio: 1,
      verdict: 'undecided',
    });
  });
});

describe('programs that a workload starts itself', () => {
  it('are those of all its steps, each once', () => {
    const step = (argv: readonly [string, ...string[]]) => ({
      id: argv.join(),
      argv,
      stdin: null,
      stdout: null,
      timeSeconds: null,
    });
    expect(
      startedPrograms(
        sampleWorkload({
          program: {
            kind: 'scripted',
            setUp: [step(['tar'])],
            steps: [step(['xz', '-9'])],
            check: [step(['xz', '-t'])],
            tearDown: [],
          },
        }),
      ),
    ).toEqual(['tar', 'xz']);
    expect(startedPrograms(sampleWorkload())).toEqual(['/bin/true']);
    expect(startedPrograms(sampleHandWorkload())).toEqual([]);
  });
});
