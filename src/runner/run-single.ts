import { join } from 'node:path';
import { stopOrder } from '../model/meter.ts';
import type { Workload } from '../model/suite.ts';
import { judge } from './judge.ts';
import { keepLogs } from './keep-logs.ts';
import { observe } from './observe.ts';
import type { RunFiles } from './output.ts';
import { preparePageCache } from './page-cache.ts';
import { resolveCommand } from './resolve-command.ts';
import { commonRequest, type RunBench, type RunPart, startMoment } from './run-part.ts';

/** One run of a workload that is a single program. */
export async function runSingle(workload: Workload, bench: RunBench): Promise<RunPart> {
  const { folder, places, setting, watch } = bench;
  const { argv, parameters } = resolveCommand(workload, places);
  const prepared = await preparePageCache(workload.pageCache, Object.values(places.inputs));
  const moment = startMoment(setting);
  if (!prepared.ok) return notPrepared(prepared.error, { ...moment, parameters });
  const files: RunFiles = {
    stdout: join(folder, 'stdout'),
    stderr: join(folder, 'stderr'),
    scratch: places.scratch,
  };
  const request = {
    ...commonRequest(workload, bench),
    argv,
    stdoutPath: files.stdout,
    stderrPath: files.stderr,
    onStart: watch.onStart,
  };
  const { result: outcome, telemetry } = await observe(setting.telemetry, () =>
    setting.meter.measure(request),
  );
  const { failure, metrics } = await judge(workload, outcome, files, stopOrder(watch.abort));
  const ended = outcome.kind === 'ended' ? outcome : null;
  return {
    ...moment,
    parameters,
    failure,
    exit: ended?.exit ?? null,
    stopped: ended?.stopped ?? null,
    accounting: ended?.accounting ?? null,
    leftBehind: ended?.leftBehind ?? 0,
    metrics,
    logs: await keepLogs(bench, outcome, files),
    pageCache: workload.pageCache,
    steps: null,
    telemetry,
  };
}

function notPrepared(
  message: string,
  known: Pick<RunPart, 'startedAt' | 'sinceStartSeconds' | 'parameters'>,
): RunPart {
  return {
    ...known,
    failure: { code: 'input-not-prepared', message },
    exit: null,
    stopped: null,
    accounting: null,
    leftBehind: 0,
    metrics: [],
    logs: null,
    pageCache: null,
    steps: null,
    telemetry: null,
  };
}
