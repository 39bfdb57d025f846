import { ok } from '../lib/result.ts';
import type { Ended, MeterOutcome, NotStarted } from '../model/meter.ts';
import type { MetricValue, RunFailure, RunFailureCode } from '../model/run.ts';
import type { Workload } from '../model/suite.ts';
import { readMetrics } from './metrics/read-metrics.ts';
import { hashOutput, placeName, type RunFiles, readOutput } from './output.ts';

export interface Judgement {
  /** Null for a good run. */
  readonly failure: RunFailure | null;
  /** Empty for a failed run. */
  readonly metrics: readonly MetricValue[];
}

const notStartedCodes: Readonly<Record<NotStarted['reason'], RunFailureCode>> = {
  'not-found': 'program-not-found',
  'not-executable': 'program-not-executable',
  'no-such-folder': 'program-not-started',
  'system-error': 'program-not-started',
};

/** Whether a run counts, by the first thing that went wrong, and its figures if it does. */
export async function judge(
  workload: Workload,
  outcome: MeterOutcome,
  files: RunFiles,
): Promise<Judgement> {
  if (outcome.kind === 'not-started') {
    return failed(notStartedCodes[outcome.reason], outcome.message);
  }
  const ending = judgeEnding(workload, outcome) ?? (await judgeOutput(workload, outcome, files));
  if (ending !== null) {
    return failed(ending.code, `${ending.message}${await outputTail(files)}`);
  }
  const metrics = await readMetrics(workload.metrics, outcome.accounting, files);
  if (metrics.ok) return { failure: null, metrics: metrics.value };
  return failed('metric-not-found', `${metrics.error}${await outputTail(files)}`);
}

function judgeEnding(
  workload: Workload,
  { stopped, exit, stdout, stderr }: Ended,
): RunFailure | null {
  const { limits, expect } = workload;
  if (stopped?.cause === 'time-limit') {
    return {
      code: 'time-limit',
      message: `still running after the limit of ${limits.timeSeconds} s`,
    };
  }
  // The meter looks now and then: a program may end by itself between passing the limit and being seen.
  const isFlood = stopped === null && stdout.bytes + stderr.bytes > limits.outputBytes;
  if (stopped?.cause === 'output-limit' || isFlood) {
    return {
      code: 'output-limit',
      message: `wrote more than the limit of ${limits.outputBytes} bytes`,
    };
  }
  if (stopped?.cause === 'operator') {
    return { code: 'stopped-by-operator', message: 'ended at once on request' };
  }
  if (exit.kind === 'signal') {
    return { code: 'ended-by-signal', message: `ended by ${exit.signal}` };
  }
  if (exit.code === expect.exitCode) return null;
  const message = `exit code ${exit.code}, expected ${expect.exitCode}`;
  return { code: 'unexpected-exit-code', message };
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

const tailCharacters = 400;

async function outputTail(files: RunFiles): Promise<string> {
  for (const kind of ['stderr', 'stdout'] as const) {
    const text = await readOutput({ kind, step: null }, files);
    const tail = text.ok ? lastLines(text.value.trim()) : '';
    if (tail !== '') return `; ${placeName({ kind, step: null })} ended: ${JSON.stringify(tail)}`;
  }
  return '; it printed nothing';
}

/** The end of a text from the beginning of a line, as far as there is room. */
function lastLines(text: string): string {
  const tail = text.slice(-tailCharacters);
  const lineStart = tail.length < text.length ? tail.indexOf('\n') + 1 : 0;
  return tail.slice(lineStart);
}

function failed(code: RunFailureCode, message: string): Judgement {
  return { failure: { code, message }, metrics: [] };
}
