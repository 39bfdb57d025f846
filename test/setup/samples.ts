import { blankSitting } from '../../src/model/blank-sitting.ts';
import { type EndNotice, endNoticeSchema } from '../../src/model/end-notice.ts';
import { type Exclusion, exclusionSchema } from '../../src/model/exclusion.ts';
import type { Inventory } from '../../src/model/inventory.ts';
import { type PrecisionStudy, precisionSchema } from '../../src/model/precision.ts';
import {
  type Correction,
  correctionSchema,
  type RunRecord,
  runSchema,
} from '../../src/model/run.ts';
import { type Sitting, sittingSchema } from '../../src/model/sitting.ts';
import type { Suite, Workload } from '../../src/model/suite.ts';

/** Invented records for tests: a bench of the Harbour Lane repair co-op. */

export function sampleWorkload(changes: Partial<Workload> = {}): Workload {
  return {
    id: 'pack',
    title: 'Pack a folder',
    program: { kind: 'command', argv: ['/bin/true'] },
    inputs: {},
    pageCache: null,
    environment: {},
    affinity: null,
    priority: null,
    limits: { timeSeconds: 10, outputBytes: 2 ** 20 },
    expect: { exitCode: 0, output: null },
    metrics: [
      {
        id: 'wall',
        source: { kind: 'accounting', reading: 'wall', step: null },
        unit: 's',
        better: 'lower',
      },
    ],
    ...changes,
  };
}

export function sampleSuite(changes: Partial<Suite> = {}): Suite {
  return {
    id: 'harbour',
    title: 'Harbour Lane acceptance (invented)',
    description: null,
    revision: 1,
    repeats: { kind: 'fixed', count: 2 },
    warmUps: 1,
    order: 'as-written',
    seed: 1,
    cooldown: { kind: 'fixed', seconds: 0 },
    limits: { timeSeconds: 10, outputBytes: 2 ** 20 },
    temperatureLimit: { celsius: null, marginKelvin: 5 },
    retry: { failed: 0, disturbed: 0 },
    parkAfter: 3,
    requires: [],
    differenceThatMatters: 0.02,
    workloads: [sampleWorkload()],
    programs: {},
    profile: null,
    digest: 'a'.repeat(64),
    ...changes,
  };
}

const stream = { bytes: 0, keptBytes: 0, sha256: null, redactions: 0 };

export function sampleRun(changes: Partial<RunRecord> = {}): RunRecord {
  return {
    schema: runSchema,
    plan: 0,
    attempt: 1,
    phase: 'repeat',
    round: 1,
    workload: 'pack',
    parameters: null,
    startedAt: '2026-01-31T20:15:00.000Z',
    sinceStartSeconds: 1.5,
    bootId: null,
    meter: 'kernel',
    outcome: 'ok',
    failure: null,
    exit: { kind: 'code', code: 0 },
    stopped: null,
    accounting: {
      wallSeconds: 2.5,
      userSeconds: 2.25,
      systemSeconds: 0.125,
      peakMemory: { kind: 'exact', bytes: 12_345_678 },
      minorFaults: 100,
      majorFaults: 0,
      voluntarySwitches: 3,
      involuntarySwitches: 7,
    },
    leftBehind: 0,
    metrics: [{ id: 'wall', value: 2.5, unit: 's', better: 'lower' }],
    disturbances: [],
    cooldown: null,
    logs: {
      stdout: { ...stream, path: 'logs/0000-pack.stdout.txt' },
      stderr: { ...stream, path: 'logs/0000-pack.stderr.txt' },
    },
    pageCache: null,
    steps: null,
    telemetry: null,
    entry: null,
    ...changes,
  };
}

/** A workload read by hand with one figure, `score`, in points from 0 to 100,000. */
export function sampleHandWorkload(changes: Partial<Workload> = {}): Workload {
  return sampleWorkload({
    id: 'reel',
    title: 'Demo reel',
    program: { kind: 'by-hand', instruction: 'Start the demo reel and wait for the score.' },
    metrics: [
      {
        id: 'score',
        source: { kind: 'operator', factor: 1, symbol: 'points', least: 0, most: 100_000 },
        unit: '{points}',
        better: 'higher',
      },
    ],
    ...changes,
  });
}

export function sampleHandRun(
  plan: number,
  score: number,
  changes: Partial<RunRecord> = {},
): RunRecord {
  return sampleRun({
    plan,
    round: plan + 1,
    workload: 'reel',
    meter: null,
    exit: null,
    accounting: null,
    logs: null,
    metrics: [{ id: 'score', value: score, unit: '{points}', better: 'higher' }],
    entry: { by: 'operator', confirmed: false },
    ...changes,
  });
}

export function sampleCorrection(changes: Partial<Correction> = {}): Correction {
  return {
    schema: correctionSchema,
    plan: 0,
    metric: 'score',
    from: 4120,
    to: 4210,
    reason: 'two digits swapped',
    at: '2026-01-31T20:30:00.000Z',
    ...changes,
  };
}

export function sampleExclusion(changes: Partial<Exclusion> = {}): Exclusion {
  return {
    schema: exclusionSchema,
    sitting: '20260131T201500Z-bench-a-harbour-9f3c',
    plan: 1,
    attempt: 1,
    excluded: true,
    reason: 'somebody opened the side panel',
    at: '2026-01-31T21:00:00.000Z',
    ...changes,
  };
}

/** A study of three sittings, as it would be read from its file. */
export function sampleStudy(changes: Partial<PrecisionStudy> = {}): PrecisionStudy {
  return {
    schema: precisionSchema,
    rig: 'bench-a',
    suite: 'harbour',
    digest: 'a'.repeat(64),
    at: '2026-02-01T08:00:00.000Z',
    sittings: ['one', 'two', 'three'],
    assemblies: 1,
    boots: 3,
    excludedRuns: 0,
    unchecked: [],
    rows: [
      {
        workload: 'pack',
        metric: 'wall',
        unit: 's',
        better: 'lower',
        sittings: 3,
        runs: 15,
        sr: 0.008,
        srDf: 12,
        sb: 0.006,
        sbDf: 2,
        effectiveRepeats: 5,
        si: 0.01,
        repeatabilityLimit: 0.0224,
        detectable: 0.0501,
      },
    ],
    untold: [],
    times: [{ workload: 'pack', seconds: 20, cooldownSeconds: 10 }],
    ...changes,
  };
}

export function sampleSitting(changes: Partial<Sitting> = {}): Sitting {
  return {
    schema: sittingSchema,
    id: '20260131T201500Z-bench-a-harbour-9f3c',
    tool: { name: 'steadyrig', version: '0.0.0' },
    rig: 'bench-a',
    levels: { memory: '2x8 GiB' },
    assembly: 1,
    conditions: { ambientCelsius: 21.5, notes: null },
    suite: {
      text: 'suite: harbour\n',
      textSha256: 'b'.repeat(64),
      resolved: sampleSuite(),
      redactions: 0,
    },
    plan: {
      seed: 1,
      order: 'as-written',
      algorithm: 'as-written/1',
      runs: [0, 1, 2].map((index) => ({
        index,
        phase: index === 0 ? 'warm-up' : 'repeat',
        round: index === 0 ? 1 : index,
        workload: 'pack',
        conditional: false,
      })),
    },
    meter: { name: 'kernel', why: null },
    environment: { PATH: '/usr/bin' },
    cpus: 2,
    startedAt: '2026-01-31T20:15:00.000Z',
    ...blankSitting,
    endedAt: '2026-01-31T20:16:00.000Z',
    state: 'complete',
    ...changes,
  };
}

export const sampleInventory: Inventory = {
  schema: 'steadyrig/inventory/1',
  takenAt: '2026-01-31T20:15:00.000Z',
  seconds: 0.1,
  collectors: [],
  sections: {},
};

export function sampleEndNotice(changes: Partial<EndNotice> = {}): EndNotice {
  return {
    schema: endNoticeSchema,
    at: '2026-01-31T20:16:01.000Z',
    outcome: 'complete',
    reason: null,
    text: 'bench-a: harbour complete, 3 of 3 runs',
    sitting: '20260131T201500Z-bench-a-harbour-9f3c',
    rig: 'bench-a',
    suite: 'harbour',
    profile: null,
    startedAt: '2026-01-31T20:15:00.000Z',
    endedAt: '2026-01-31T20:16:00.000Z',
    ...{ plannedRuns: 3, recordedRuns: 3, failedRuns: 0, retriedRuns: 0 },
    ...{ disturbedRuns: 0, throttledRuns: 0, parked: [], interruptions: 0, exitCode: 0 },
    ...changes,
  };
}
