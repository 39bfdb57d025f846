import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { whySettled } from '../../../src/api/why-settled.ts';
import { whyUnusual } from '../../../src/api/why-unusual.ts';
import type { SittingEvent } from '../../../src/model/event.ts';
import type { Meter, MeterRequest } from '../../../src/model/meter.ts';
import type { RunRecord } from '../../../src/model/run.ts';
import type { Suite } from '../../../src/model/suite.ts';
import { makePlan } from '../../../src/plan/make-plan.ts';
import type { Clock } from '../../../src/runner/clock.ts';
import type { PlanHooks } from '../../../src/runner/plan-hooks.ts';
import type { RunSetting } from '../../../src/runner/run-part.ts';
import { runPlan } from '../../../src/runner/run-plan.ts';
import { StopControl } from '../../../src/runner/stop-control.ts';
import { sampleRun, sampleSuite, sampleWorkload } from '../../setup/samples.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';

const sha = 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855';

/** A meter that starts nothing: each run takes the next of the given times. */
function scriptedMeter(
  walls: readonly number[],
  onRun: (request: MeterRequest) => void = () => undefined,
): Meter {
  let next = 0;
  const stream = { bytes: 0, keptBytes: 0, sha256: sha };
  return {
    name: 'kernel',
    close: async () => undefined,
    measure: async (request) => {
      onRun(request);
      for (const path of [request.stdoutPath, request.stderrPath]) writeFileSync(path, '');
      const wallSeconds = walls[next % walls.length] ?? 1;
      next += 1;
      const accounting = { ...sampleRun().accounting, wallSeconds } as NonNullable<
        RunRecord['accounting']
      >;
      return {
        kind: 'ended',
        exit: { kind: 'code', code: 0 },
        stopped: null,
        accounting,
        leftBehind: 0,
        stdout: stream,
        stderr: stream,
      };
    },
  };
}

const nothing = { runs: [], corrections: [] };

const clock: Clock = {
  now: () => new Date(0),
  monotonicSeconds: () => 0,
  sleep: async () => undefined,
};

interface Bench {
  readonly setting: RunSetting;
  readonly hooks: PlanHooks;
  readonly events: SittingEvent[];
  readonly appended: RunRecord[];
  readonly scratch: string;
}

function makeBench(suite: Suite, meter: Meter, changes: Partial<PlanHooks> = {}): Bench {
  const folder = temporaryFolder();
  const data = join(folder, 'data');
  const scratch = join(folder, 'scratch');
  mkdirSync(join(data, 'logs'), { recursive: true });
  mkdirSync(scratch);
  const events: SittingEvent[] = [];
  const appended: RunRecord[] = [];
  return {
    events,
    appended,
    scratch,
    setting: {
      meter,
      clock,
      startSeconds: 0,
      bootId: null,
      data,
      scratchParent: scratch,
      path: '/usr/bin',
      places: { cpus: 2, node: process.execPath, shippedScript: (name) => `/shipped/${name}.js` },
      inputsOf: () => ({}),
      literals: [],
      telemetry: null,
      idleCelsius: null,
    },
    hooks: {
      append: async (record) => {
        appended.push(record);
      },
      emit: (event) => {
        events.push(event);
      },
      correct: async () => undefined,
      mark: async () => undefined,
      whySettled: (workload, runs) => whySettled(suite, workload, runs),
      whyUnusual,
      operator: null,
      readLoad: async () => null,
      stop: new StopControl(),
      ...{ watchRun: null, betweenRounds: null, deadline: null },
      ...changes,
    },
  };
}

describe('runPlan', () => {
  it('runs what is planned in its order, each marked before it starts and recorded before the next begins', async () => {
    const suite = sampleSuite();
    const order: string[] = [];
    const meter = scriptedMeter([1], () => order.push('run'));
    const bench = makeBench(suite, meter, {
      append: async () => {
        order.push('append');
      },
      mark: async () => {
        order.push('mark');
      },
    });
    const { complete, runs } = await runPlan(
      suite,
      makePlan(suite),
      nothing,
      bench.setting,
      bench.hooks,
    );
    expect(complete).toBe(true);
    const one = ['mark', 'run', 'append'];
    expect(order).toEqual([...one, ...one, ...one]);
    expect(runs.map(({ phase, round, cooldown }) => [phase, round, cooldown === null])).toEqual([
      ['warm-up', 1, true],
      ['repeat', 1, false],
      ['repeat', 2, false],
    ]);
  });

  it('leaves out what is recorded already', async () => {
    const suite = sampleSuite();
    const bench = makeBench(suite, scriptedMeter([1]));
    const recorded = {
      runs: [sampleRun({ plan: 0, phase: 'warm-up' }), sampleRun({ plan: 2, round: 2 })],
      corrections: [],
    };
    const { runs } = await runPlan(suite, makePlan(suite), recorded, bench.setting, bench.hooks);
    expect(bench.appended.map(({ plan }) => plan)).toEqual([1]);
    expect(runs).toHaveLength(3);
  });

  it('gives each run a fresh scratch folder and removes it', async () => {
    const suite = sampleSuite();
    const folders = new Set<string>();
    const meter = scriptedMeter([1], ({ workingFolder, environment }) => {
      expect(readdirSync(workingFolder)).toEqual([]);
      expect(environment['HOME']).toBe(workingFolder);
      writeFileSync(join(workingFolder, 'left'), '');
      folders.add(workingFolder);
    });
    const bench = makeBench(suite, meter);
    await runPlan(suite, makePlan(suite), nothing, bench.setting, bench.hooks);
    expect(folders.size).toBe(3);
    expect(readdirSync(bench.scratch)).toEqual([]);
  });

  it('fills in placeholders and passes shipped workloads their parameters', async () => {
    const asked: (readonly string[])[] = [];
    const suite = sampleSuite({
      warmUps: 0,
      repeats: { kind: 'fixed', count: 1 },
      workloads: [
        sampleWorkload({
          program: { kind: 'command', argv: ['/bin/pack', '{cpus}', '{input:parts}', '{other}'] },
        }),
        sampleWorkload({
          id: 'b',
          affinity: [1],
          program: { kind: 'shipped', name: 'hash', parameters: { size: 64, threads: 'all' } },
        }),
      ],
    });
    const bench = makeBench(
      suite,
      scriptedMeter([1], ({ argv }) => asked.push(argv)),
    );
    const setting = { ...bench.setting, inputsOf: () => ({ parts: '/suite/parts.bin' }) };
    const { runs } = await runPlan(suite, makePlan(suite), nothing, setting, bench.hooks);
    expect(asked).toEqual([
      ['/bin/pack', '2', '/suite/parts.bin', '{other}'],
      [process.execPath, '/shipped/hash.js', '{"size":64,"threads":1}'],
    ]);
    expect(runs.map(({ parameters }) => parameters)).toEqual([null, { size: 64, threads: 1 }]);
  });

  it('stops adaptive repeats of steady workloads early, and goes on with unsteady ones', async () => {
    const suite = sampleSuite({
      warmUps: 0,
      repeats: { kind: 'adaptive', atLeast: 8, atMost: 12, untilHalfWidthBelow: 0.01 },
    });
    const steady = makeBench(suite, scriptedMeter([1, 1.001]));
    const calm = await runPlan(suite, makePlan(suite), nothing, steady.setting, steady.hooks);
    expect(calm).toMatchObject({ complete: true, runs: { length: 8 } });
    expect(steady.events.filter(({ type }) => type === 'run-left-out')).toHaveLength(4);
    const unsteady = makeBench(suite, scriptedMeter([1, 2]));
    const wild = await runPlan(suite, makePlan(suite), nothing, unsteady.setting, unsteady.hooks);
    expect(wild.runs).toHaveLength(12);
  });

  it('starts no further run once a record could not be written', async () => {
    const suite = sampleSuite();
    let started = 0;
    const meter = scriptedMeter([1], () => {
      started += 1;
    });
    const bench = makeBench(suite, meter, {
      append: async () => {
        throw Object.assign(new Error('ENOSPC: no space left on device'), { code: 'ENOSPC' });
      },
    });
    await expect(
      runPlan(suite, makePlan(suite), nothing, bench.setting, bench.hooks),
    ).rejects.toThrow('ENOSPC');
    expect(started).toBe(1);
    expect(readdirSync(bench.scratch)).toEqual([]);
  });

  it('ends after the run under way when a stop is asked for', async () => {
    const suite = sampleSuite();
    const stop = new StopControl();
    const bench = makeBench(
      suite,
      scriptedMeter([1], () => stop.request('SIGINT')),
      { stop },
    );
    const result = await runPlan(suite, makePlan(suite), nothing, bench.setting, bench.hooks);
    expect(result).toMatchObject({ complete: false, runs: [{ plan: 0, outcome: 'ok' }] });
  });

  it('is complete when the stop came during the very last run', async () => {
    const suite = sampleSuite({ warmUps: 0, repeats: { kind: 'fixed', count: 1 } });
    const stop = new StopControl();
    const bench = makeBench(
      suite,
      scriptedMeter([1], () => stop.request('SIGINT')),
      { stop },
    );
    expect(
      (await runPlan(suite, makePlan(suite), nothing, bench.setting, bench.hooks)).complete,
    ).toBe(true);
  });
});
