import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { type PrivateLiteral, scrubText } from '../lib/scrub-text.ts';
import type { Meter, MeterOutcome } from '../model/meter.ts';
import type { PlannedRun } from '../model/plan.ts';
import { type CooldownRecord, type RunRecord, runSchema } from '../model/run.ts';
import type { Parameters, Workload } from '../model/suite.ts';
import type { Clock } from './clock.ts';
import { judge } from './judge.ts';
import { keepLog } from './keep-log.ts';
import { measuredEnvironment } from './meter/measured-environment.ts';
import type { RunFiles } from './output.ts';
import { type CommandPlaces, resolveCommand } from './resolve-command.ts';

/** What runs of one sitting share. */
export interface RunSetting {
  readonly meter: Meter;
  readonly clock: Clock;
  /** Monotonic zero of the records. */
  readonly startSeconds: number;
  readonly bootId: string | null;
  /** Data folder of the sitting. */
  readonly data: string;
  /** Parent of the fresh folder that each run gets. */
  readonly scratchParent: string;
  /** PATH of measured programs. */
  readonly path: string;
  readonly places: Omit<CommandPlaces, 'scratch' | 'inputs'>;
  /** Absolute paths of a workload's inputs by name. */
  readonly inputsOf: (workload: Workload) => Readonly<Record<string, string>>;
  readonly literals: readonly PrivateLiteral[];
}

const graceSeconds = 2;

/** One run from its fresh scratch folder to its record. Rejects only when our own files cannot be written. */
export async function runWorkload(
  run: PlannedRun,
  workload: Workload,
  cooldown: CooldownRecord | null,
  setting: RunSetting,
  watch: { readonly abort: AbortSignal; readonly onStart: (pid: number) => void },
): Promise<RunRecord> {
  const folder = await mkdtemp(join(setting.scratchParent, 'run-'));
  try {
    const scratch = join(folder, 'scratch');
    await mkdir(scratch);
    const files: RunFiles = {
      stdout: join(folder, 'stdout'),
      stderr: join(folder, 'stderr'),
      scratch,
    };
    const places = { ...setting.places, scratch, inputs: setting.inputsOf(workload) };
    const { argv, parameters } = resolveCommand(workload, places);
    const started = setting.clock.now();
    const sinceStartSeconds = setting.clock.monotonicSeconds() - setting.startSeconds;
    const outcome = await setting.meter.measure({
      argv,
      environment: measuredEnvironment({
        path: setting.path,
        scratch,
        extra: workload.environment,
      }),
      workingFolder: scratch,
      stdoutPath: files.stdout,
      stderrPath: files.stderr,
      affinity: workload.affinity,
      priority: workload.priority,
      timeLimitSeconds: workload.limits.timeSeconds,
      outputLimitBytes: workload.limits.outputBytes,
      graceSeconds,
      abort: watch.abort,
      onStart: watch.onStart,
    });
    const facts = { startedAt: started.toISOString(), sinceStartSeconds, cooldown, parameters };
    return await makeRecord(run, workload, outcome, files, facts, setting);
  } finally {
    await rm(folder, { recursive: true, force: true, maxRetries: 3 });
  }
}

interface RunFacts {
  readonly startedAt: string;
  readonly sinceStartSeconds: number;
  readonly cooldown: CooldownRecord | null;
  readonly parameters: Parameters | null;
}

async function makeRecord(
  run: PlannedRun,
  workload: Workload,
  outcome: MeterOutcome,
  files: RunFiles,
  facts: RunFacts,
  setting: RunSetting,
): Promise<RunRecord> {
  const { failure, metrics } = await judge(workload, outcome, files);
  const ended = outcome.kind === 'ended' ? outcome : null;
  const publicFailure =
    failure === null
      ? null
      : { code: failure.code, message: scrubText(failure.message, setting.literals).text };
  return {
    schema: runSchema,
    plan: run.index,
    phase: run.phase,
    round: run.round,
    workload: run.workload,
    parameters: facts.parameters,
    startedAt: facts.startedAt,
    sinceStartSeconds: facts.sinceStartSeconds,
    bootId: setting.bootId,
    meter: setting.meter.name,
    outcome: failure === null ? 'ok' : 'failed',
    failure: publicFailure,
    exit: ended?.exit ?? null,
    stopped: ended?.stopped ?? null,
    accounting: ended?.accounting ?? null,
    leftBehind: ended?.leftBehind ?? 0,
    metrics,
    cooldown: facts.cooldown,
    logs: await keepLogs(run, outcome, files, setting),
    pageCache: null,
    steps: null,
    entry: null,
  };
}

async function keepLogs(
  run: PlannedRun,
  outcome: MeterOutcome,
  files: RunFiles,
  { data, literals }: RunSetting,
): Promise<RunRecord['logs']> {
  if (outcome.kind !== 'ended') return null;
  const name = `logs/${String(run.index).padStart(4, '0')}-${run.workload}`;
  const keep = (kind: 'stdout' | 'stderr'): ReturnType<typeof keepLog> =>
    keepLog({ file: files[kind], stream: outcome[kind] }, data, `${name}.${kind}.txt`, literals);
  return { stdout: await keep('stdout'), stderr: await keep('stderr') };
}
