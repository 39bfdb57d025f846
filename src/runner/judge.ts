import { ok } from '../lib/result.ts';
import type { Ended, MeterOutcome, StopOrder } from '../model/meter.ts';
import type { MetricValue, RunFailure, RunFailureCode } from '../model/run.ts';
import type { Workload } from '../model/suite.ts';
import { judgeEnding } from './judge-ending.ts';
import { readMetrics } from './metrics/read-metrics.ts';
import { hashOutput, placeName, type RunFiles } from './output.ts';
import { outputTail } from './output-tail.ts';

export interface Judgement {
  /** Null for a good run. */
  readonly failure: RunFailure | null;
  /** Empty for a failed run. */
  readonly metrics: readonly MetricValue[];
}

/** Whether a run of a single program counts, by the first thing that went wrong, and its figures if it does. */
export async function judge(
  workload: Workload,
  outcome: MeterOutcome,
  files: RunFiles,
  order: StopOrder | null = null,
): Promise<Judgement> {
  const { limits, expect } = workload;
  const rule = { ...limits, exitCode: expect.exitCode, wholeStdout: false, order };
  const ending = judgeEnding(outcome, rule);
  if (outcome.kind === 'not-started') return { failure: ending, metrics: [] };
  const fault = ending ?? (await judgeOutput(workload, outcome, files));
  if (fault !== null) return failed(fault.code, `${fault.message}${await outputTail(files)}`);
  const metrics = await readMetrics(workload.metrics, { run: outcome.accounting }, files);
  if (metrics.ok) return { failure: null, metrics: metrics.value };
  return failed('metric-not-found', `${metrics.error}${await outputTail(files)}`);
}

async function judgeOutput(
  workload: Workload,
  { stdout, stderr }: Ended,
  files: RunFiles,
): Promise<RunFailure | null> {
  const wanted = workload.expect.output;
  if (wanted === null) return null;
  const { of } = wanted;
  const found =
    of.kind === 'file'
      ? await hashOutput(of, files)
      : ok((of.kind === 'stdout' ? stdout : stderr).sha256);
  const name = placeName(of);
  if (!found.ok) return { code: 'wrong-output', message: found.error };
  if (found.value === wanted.sha256) return null;
  const message =
    found.value === null
      ? `the checksum of ${name} is not known, since part of it was not kept: raise the output limit`
      : `SHA-256 of ${name} is ${found.value}, expected ${wanted.sha256}: wrong results point to unstable hardware or another version of the program`;
  return { code: 'wrong-output', message };
}

function failed(code: RunFailureCode, message: string): Judgement {
  return { failure: { code, message }, metrics: [] };
}
