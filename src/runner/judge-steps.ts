import type { Accounting } from '../model/meter.ts';
import type { RunFailure } from '../model/run.ts';
import type { Workload } from '../model/suite.ts';
import type { Judgement } from './judge.ts';
import { readMetrics } from './metrics/read-metrics.ts';
import type { StreamFiles } from './output.ts';
import { outputTail } from './output-tail.ts';
import type { PerformedStep } from './perform-step.ts';
import { sumAccounting } from './sum-accounting.ts';

/** The figures of a scripted run whose steps worked, or why it has none; to be read before the tear-down. */
export async function judgeSteps(
  workload: Workload,
  done: readonly PerformedStep[],
  stopped: RunFailure | null,
  scratch: string,
): Promise<Judgement> {
  if (stopped !== null) return { failure: stopped, metrics: [] };
  const byStep = new Map<string, Accounting>();
  const streams = new Map<string, StreamFiles>();
  for (const step of done) {
    if (step.outcome?.kind === 'ended') byStep.set(step.id, step.outcome.accounting);
    streams.set(step.id, step.streams);
  }
  const timed = done.filter(({ part }) => part === 'step');
  const run = sumAccounting(timed.flatMap(({ id }) => byStep.get(id) ?? []));
  const last = timed.at(-1);
  if (run === null || last === undefined) throw new Error('internal error: no timed step ran');
  const files = { ...last.streams, scratch, steps: streams };
  const metrics = await readMetrics(workload.metrics, { run, steps: byStep }, files);
  if (metrics.ok) return { failure: null, metrics: metrics.value };
  const isWhole = last.streams.stdout !== last.logs.stdout;
  const tail = await outputTail(isWhole ? { stderr: last.logs.stderr } : last.logs, last.id);
  return {
    failure: { code: 'metric-not-found', message: `${metrics.error}${tail}` },
    metrics: [],
  };
}
