import { stopOrder } from '../model/meter.ts';
import type { RunFailure, StepRecord } from '../model/run.ts';
import type { ScriptedProgram, Step, Workload } from '../model/suite.ts';
import { orderFailure } from './judge-ending.ts';
import { judgeSteps } from './judge-steps.ts';
import { observe } from './observe.ts';
import { preparePageCache } from './page-cache.ts';
import { type PerformedStep, performStep } from './perform-step.ts';
import { type RunBench, type RunPart, startMoment } from './run-part.ts';
import { recordSteps } from './step-records.ts';
import { sumAccounting } from './sum-accounting.ts';

/**
 * One run of a scripted workload: set-up, timed steps, check and tear-down in one scratch folder. What fails before
 * the tear-down fails the run and has the rest left out; figures are read before the tear-down, which is done in any
 * case but when the run is ended at once, and cannot make a good run bad.
 */
export async function runScripted(
  workload: Workload,
  program: ScriptedProgram,
  bench: RunBench,
): Promise<RunPart> {
  const moment = startMoment(bench.setting);
  const done: PerformedStep[] = [];
  const perform = performer(workload, bench, done);
  const upTo = await perform('set-up', program.setUp);
  // After the set-up, or what it reads and writes would change the state again.
  const cache = upTo === null ? await makeCacheReady(workload, bench) : null;
  const begun = upTo ?? cache;
  const timed =
    begun === null
      ? await observe(bench.setting.telemetry, () => perform('step', program.steps))
      : { result: begun, telemetry: null };
  const stopped = timed.result ?? (await perform('check', program.check));
  const { failure, metrics } = await judgeSteps(workload, done, stopped, bench.places.scratch);
  for (const step of program.tearDown) await perform('tear-down', [step]);
  const deciding = done.findLast(({ part, failure: own }) =>
    stopped === null ? part === 'step' : part !== 'tear-down' && own !== null,
  );
  const ended = deciding?.outcome?.kind === 'ended' ? deciding.outcome : null;
  const steps = await recordSteps(done, bench);
  return {
    ...moment,
    parameters: null,
    failure,
    exit: ended?.exit ?? null,
    stopped: ended?.stopped ?? null,
    accounting: sumAccounting(
      steps.flatMap(({ part, accounting }) =>
        part === 'step' && accounting !== null ? [accounting] : [],
      ),
    ),
    leftBehind: steps.reduce((sum, { leftBehind }) => sum + leftBehind, 0),
    metrics,
    logs: null,
    pageCache: upTo === null && cache === null ? workload.pageCache : null,
    steps,
    telemetry: timed.telemetry,
  };
}

type Perform = (part: StepRecord['part'], steps: readonly Step[]) => Promise<RunFailure | null>;

/** Carries out steps in their order up to the first that fails, adding each to `done`; why the run fails, if it does. */
function performer(workload: Workload, bench: RunBench, done: PerformedStep[]): Perform {
  const { watch } = bench;
  let isFirst = true;
  const onStart = (step: string, pid: number): void => {
    if (isFirst) watch.onStart(pid);
    isFirst = false;
    watch.onStep(step);
  };
  return async (part, steps) => {
    for (const step of steps) {
      const order = stopOrder(watch.abort);
      if (order !== null) {
        const message = `${order.message}, before ${stepName(part, step.id)}`;
        return orderFailure({ ...order, message });
      }
      const performed = await performStep(step, part, workload, bench, (pid) =>
        onStart(step.id, pid),
      );
      done.push(performed);
      const failure = runFailure(performed);
      if (failure !== null) return failure;
    }
    return null;
  };
}

/** What the failure of a step means for its run. */
function runFailure({ id, part, failure, outcome }: PerformedStep): RunFailure | null {
  if (failure === null) return null;
  const message = `${stepName(part, id)}: ${failure.message}`;
  const isOrdered = failure.code === 'stopped-by-operator' || failure.code === 'temperature-limit';
  if (isOrdered) return { code: failure.code, message };
  const isVerdict = part === 'check' && outcome?.kind === 'ended' && outcome.stopped === null;
  if (!isVerdict || failure.code === 'output-limit') return { code: 'step-failed', message };
  const meaning = 'wrong results point to unstable hardware or another version of the program';
  return { code: 'wrong-output', message: `${message}: ${meaning}` };
}

function stepName(part: StepRecord['part'], id: string): string {
  return part === 'step' ? `step ${id}` : `${part} step ${id}`;
}

async function makeCacheReady(
  { pageCache }: Workload,
  { places }: RunBench,
): Promise<RunFailure | null> {
  const ready = await preparePageCache(pageCache, Object.values(places.inputs));
  return ready.ok ? null : { code: 'input-not-prepared', message: ready.error };
}
