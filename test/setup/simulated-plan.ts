import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { whySettled } from '../../src/api/why-settled.ts';
import type { SittingEvent } from '../../src/model/event.ts';
import type { Meter, MeterOutcome, MeterRequest } from '../../src/model/meter.ts';
import type { PlannedRun } from '../../src/model/plan.ts';
import type { RunRecord } from '../../src/model/run.ts';
import type { Suite } from '../../src/model/suite.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import type { Recorded } from '../../src/runner/ledger.ts';
import type { PlanHooks } from '../../src/runner/plan-hooks.ts';
import type { RunSetting } from '../../src/runner/run-part.ts';
import { type PlanResult, runPlan } from '../../src/runner/run-plan.ts';
import { StopControl } from '../../src/runner/stop-control.ts';
import { sampleRun } from './samples.ts';
import { temporaryFolder } from './temporary-folder.ts';

/** What becomes of the next run: how long it takes, and whether its program succeeds. */
export interface SimulatedRun {
  readonly seconds: number;
  readonly good: boolean;
}

export interface Simulation {
  /** Of a workload's n-th start in this process, from 1. */
  readonly runs?: (workload: string, start: number) => Partial<SimulatedRun>;
  readonly hooks?: Partial<PlanHooks>;
  /** Seconds from the start to the deadline. */
  readonly deadlineSeconds?: number;
  readonly recorded?: Recorded;
}

export interface Simulated {
  readonly result: PlanResult;
  readonly events: readonly SittingEvent[];
  readonly stop: StopControl;
  /** Everything that happened, in order, such as `run pack 1.2` for the second attempt at planned run 1. */
  readonly story: readonly string[];
  /** At the end. */
  readonly seconds: number;
}

/** Works through the plan of a suite with a meter that starts nothing and a clock that only its runs and waits move. */
export async function simulatePlan(suite: Suite, simulation: Simulation = {}): Promise<Simulated> {
  let now = 0;
  const story: string[] = [];
  const events: SittingEvent[] = [];
  const stop = simulation.hooks?.stop ?? new StopControl();
  let underWay: { run: PlannedRun; attempt: number } | null = null;
  const starts = new Map<string, number>();
  const data = temporaryFolder();
  mkdirSync(join(data, 'logs'));
  const setting = {
    clock: {
      now: () => new Date(now * 1000),
      monotonicSeconds: () => now,
      sleep: async (seconds: number) => {
        now += seconds;
      },
    },
    ...{ startSeconds: 0, bootId: null, literals: [], telemetry: null, idleCelsius: null },
    ...{ data, scratchParent: data, path: '/usr/bin', inputsOf: () => ({}) },
    places: { cpus: 2, node: 'node', shippedScript: (name: string) => name },
    meter: {
      name: 'kernel',
      close: async () => undefined,
      measure: async ({ stdoutPath, stderrPath }: MeterRequest) => {
        if (underWay === null) throw new Error('a run that was not marked');
        const { workload, index } = underWay.run;
        const start = (starts.get(workload) ?? 0) + 1;
        starts.set(workload, start);
        const { seconds = 1, good = true } = simulation.runs?.(workload, start) ?? {};
        now += seconds;
        story.push(`run ${workload} ${index}.${underWay.attempt}`);
        for (const path of [stdoutPath, stderrPath]) writeFileSync(path, '');
        return ended(seconds, good ? 0 : 7);
      },
    } as unknown as Meter,
  } as unknown as RunSetting;
  const { deadlineSeconds } = simulation;
  const hooks: PlanHooks = {
    append: async ({ plan, attempt, outcome }) => void story.push(`${outcome} ${plan}.${attempt}`),
    correct: async () => undefined,
    mark: async (run, attempt) => {
      underWay = { run, attempt };
    },
    emit: (event) => void events.push(event),
    whySettled: (workload, runs) => whySettled(suite, workload, runs),
    whyUnusual: () => null,
    operator: null,
    readLoad: async () => null,
    ...{ watchRun: null, betweenRounds: null },
    deadline:
      deadlineSeconds === undefined
        ? null
        : { secondsLeft: () => deadlineSeconds - now, assumedRunSeconds: () => 1 },
    ...simulation.hooks,
    stop,
  };
  const recorded = simulation.recorded ?? { runs: [], corrections: [] };
  const result = await runPlan(suite, makePlan(suite), recorded, setting, hooks);
  return { result, events, stop, story, seconds: now };
}

function ended(wallSeconds: number, code: number): MeterOutcome {
  const stream = { bytes: 0, keptBytes: 0, sha256: null, redactions: 0 };
  const accounting = { ...sampleRun().accounting, wallSeconds } as NonNullable<
    RunRecord['accounting']
  >;
  return {
    ...{ kind: 'ended', exit: { kind: 'code', code }, stopped: null, leftBehind: 0 },
    ...{ accounting, stdout: stream, stderr: stream },
  } as MeterOutcome;
}
