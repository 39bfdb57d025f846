import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type Ended, type MeterOutcome, stopOrder } from '../model/meter.ts';
import type { RunFailure, StepRecord } from '../model/run.ts';
import type { Step, Workload } from '../model/suite.ts';
import { judgeEnding } from './judge-ending.ts';
import type { StreamFiles } from './output.ts';
import { outputTail } from './output-tail.ts';
import { type ResolvedStep, resolveStep } from './resolve-step.ts';
import { commonRequest, type RunBench } from './run-part.ts';

/** A step that was carried out or at least tried. */
export interface PerformedStep {
  readonly id: string;
  readonly part: StepRecord['part'];
  /** Null when it could not even be asked for. */
  readonly outcome: MeterOutcome | null;
  /** With the tail of what it printed; not scrubbed yet. */
  readonly failure: RunFailure | null;
  readonly logs: StreamFiles;
  /** Where figures are read from: the logs, or the scratch file that standard output went to. */
  readonly streams: StreamFiles;
}

/** Exit code of a step that worked. */
const goodExitCode = 0;

/** Carries out one step and tells whether it worked. */
export async function performStep(
  step: Step,
  part: StepRecord['part'],
  workload: Workload,
  bench: RunBench,
  onStart: (pid: number) => void,
): Promise<PerformedStep> {
  const { id } = step;
  const logs = {
    stdout: join(bench.folder, `${id}.stdout`),
    stderr: join(bench.folder, `${id}.stderr`),
  };
  const resolved = await resolveStep(step, workload, bench.places);
  if (!resolved.ok) {
    const failure = { code: 'program-not-started', message: resolved.error } as const;
    return { id, part, outcome: null, failure, logs, streams: logs };
  }
  const timeSeconds = step.timeSeconds ?? workload.limits.timeSeconds;
  const outcome = await bench.setting.meter.measure({
    ...commonRequest(workload, bench),
    ...streamRequest(resolved.value, logs),
    argv: resolved.value.argv,
    timeLimitSeconds: timeSeconds,
    onStart,
  });
  const wholeStdout = step.stdout !== null;
  const fault = judgeEnding(outcome, {
    timeSeconds,
    outputBytes: workload.limits.outputBytes,
    exitCode: goodExitCode,
    wholeStdout,
    order: stopOrder(bench.watch.abort),
  });
  const tail =
    fault === null || outcome.kind !== 'ended'
      ? ''
      : await outputTail(wholeStdout ? { stderr: logs.stderr } : logs);
  const noted = wholeStdout && outcome.kind === 'ended';
  return {
    id,
    part,
    outcome: noted ? await noteWhole(outcome, step.stdout ?? '', logs.stdout) : outcome,
    failure: fault && { code: fault.code, message: `${fault.message}${tail}` },
    logs,
    streams: { ...logs, stdout: resolved.value.stdoutPath ?? logs.stdout },
  };
}

function streamRequest(
  { stdinPath, stdoutPath }: ResolvedStep,
  logs: StreamFiles,
): { readonly stdoutPath: string; readonly stderrPath: string; readonly wholeStdout: boolean } {
  return {
    ...(stdinPath === null ? {} : { stdinPath }),
    stdoutPath: stdoutPath ?? logs.stdout,
    stderrPath: logs.stderr,
    wholeStdout: stdoutPath !== null,
  };
}

/** Work left in the scratch folder is no log: the log tells where it went, and how much it was. */
async function noteWhole(outcome: Ended, name: string, log: string): Promise<Ended> {
  const { bytes } = outcome.stdout;
  const note = `[steadyrig: ${bytes} bytes went to ${name} in the scratch folder]\n`;
  await writeFile(log, note);
  const keptBytes = Buffer.byteLength(note);
  return { ...outcome, stdout: { bytes, keptBytes, sha256: null } };
}
