import { scrubText } from '../lib/scrub-text.ts';
import type { StepRecord } from '../model/run.ts';
import { keepLogs } from './keep-logs.ts';
import type { PerformedStep } from './perform-step.ts';
import type { RunBench } from './run-part.ts';

/** The records of a run's steps, their logs copied into the results. To be made when all steps are over: it writes. */
export async function recordSteps(
  done: readonly PerformedStep[],
  bench: RunBench,
): Promise<readonly StepRecord[]> {
  const records: StepRecord[] = [];
  for (const { id, part, outcome, failure, logs } of done) {
    const ended = outcome?.kind === 'ended' ? outcome : null;
    const { literals } = bench.setting;
    records.push({
      id,
      part,
      exit: ended?.exit ?? null,
      stopped: ended?.stopped ?? null,
      accounting: ended?.accounting ?? null,
      leftBehind: ended?.leftBehind ?? 0,
      failure: failure && { ...failure, message: scrubText(failure.message, literals).text },
      logs: await keepLogs(bench, outcome, logs, id),
    });
  }
  return records;
}
