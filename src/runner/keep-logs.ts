import type { MeterOutcome } from '../model/meter.ts';
import type { RunRecord } from '../model/run.ts';
import { keepLog } from './keep-log.ts';
import type { StreamFiles } from './output.ts';
import type { RunBench } from './run-part.ts';

/** Both streams of a program that ran, in the results under the run's name; `step` tells those of a scripted run apart. */
export async function keepLogs(
  { run, setting }: RunBench,
  outcome: MeterOutcome | null,
  files: StreamFiles,
  step: string | null = null,
): Promise<RunRecord['logs']> {
  if (outcome?.kind !== 'ended') return null;
  const of = step === null ? '' : `.${step}`;
  const again = run.attempt === 1 ? '' : `.${run.attempt}`;
  const name = `logs/${String(run.index).padStart(4, '0')}${again}-${run.workload}${of}`;
  const keep = (kind: 'stdout' | 'stderr'): ReturnType<typeof keepLog> =>
    keepLog(
      { file: files[kind], stream: outcome[kind] },
      setting.data,
      `${name}.${kind}.txt`,
      setting.literals,
    );
  return { stdout: await keep('stdout'), stderr: await keep('stderr') };
}
