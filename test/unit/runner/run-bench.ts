import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll } from 'vitest';
import type { Meter } from '../../../src/model/meter.ts';
import type { RunRecord } from '../../../src/model/run.ts';
import { runRecordSchema } from '../../../src/model/schemas/run-schema.ts';
import type { ScriptedProgram, Step, Workload } from '../../../src/model/suite.ts';
import { systemClock } from '../../../src/runner/clock.ts';
import { openMeter } from '../../../src/runner/meter/open-meter.ts';
import type { RunSetting, RunWatch } from '../../../src/runner/run-part.ts';
import { runWorkload } from '../../../src/runner/run-workload.ts';
import { sampleWorkload } from '../../setup/samples.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';

/** A step that is a shell line. */
export function line(id: string, script: string, changes: Partial<Step> = {}): Step {
  const argv = ['/bin/sh', '-c', script] as const;
  return { id, argv, stdin: null, stdout: null, timeSeconds: null, ...changes };
}

export function scripted(
  program: Partial<ScriptedProgram>,
  changes: Partial<Workload> = {},
): Workload {
  const steps = [line('work', ':')] as const;
  return sampleWorkload({
    program: { kind: 'scripted', setUp: [], steps, check: [], tearDown: [], ...program },
    ...changes,
  });
}

export interface Measured {
  readonly record: RunRecord;
  /** Starts and steps, as they were told. */
  readonly told: readonly string[];
  /** A log of the record. */
  log(path: string | undefined): string;
}

interface More {
  readonly inputs?: Readonly<Record<string, string>>;
  readonly abort?: AbortSignal;
  readonly literals?: RunSetting['literals'];
  readonly telemetry?: RunSetting['telemetry'];
}

/** Measures workloads for real, each record checked against the definition of its file. */
export function useRunner(): (workload: Workload, more?: More) => Promise<Measured> {
  let meter: Meter | undefined;
  beforeAll(async () => {
    meter = (await openMeter({ portable: false })).meter;
  });
  afterAll(() => meter?.close());
  return async (workload, more = {}) => {
    if (meter === undefined) throw new Error('the meter is not open');
    const folder = temporaryFolder();
    const data = join(folder, 'data');
    mkdirSync(join(data, 'logs'), { recursive: true });
    const told: string[] = [];
    const setting: RunSetting = {
      meter,
      clock: systemClock,
      startSeconds: 0,
      bootId: null,
      data,
      scratchParent: folder,
      path: '/usr/local/bin:/usr/bin:/bin',
      places: { cpus: 2, node: process.execPath, shippedScript: (name) => `/shipped/${name}.js` },
      inputsOf: () => more.inputs ?? {},
      literals: more.literals ?? [],
      telemetry: more.telemetry ?? null,
      idleCelsius: null,
    };
    const watch: RunWatch = {
      abort: more.abort ?? new AbortController().signal,
      onStart: () => told.push('started'),
      onStep: (step) => told.push(step),
    };
    const planned = {
      index: 7,
      phase: 'repeat',
      round: 1,
      workload: workload.id,
      conditional: false,
    } as const;
    const record = await runWorkload({ ...planned, attempt: 1 }, workload, null, setting, watch);
    runRecordSchema.parse(record);
    return { record, told, log: (path = '') => readFileSync(join(data, path), 'utf8') };
  };
}
