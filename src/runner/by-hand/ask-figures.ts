import type { PlannedRun } from '../../model/plan.ts';
import type { Correction, MetricValue } from '../../model/run.ts';
import type { Metric, Workload } from '../../model/suite.ts';
import { askCorrection, type TypedFigure } from './ask-correction.ts';
import { type Answer, askFigure, type Desk, figurePrompt } from './ask-figure.ts';

export type HandOutcome =
  | {
      readonly kind: 'figures';
      /** As first typed, one for each metric of the workload. */
      readonly metrics: readonly MetricValue[];
      /** True when one of them was unusual and kept. */
      readonly confirmed: boolean;
      /** Of these very figures, made before the run was recorded. */
      readonly corrections: readonly Correction[];
    }
  | { readonly kind: 'skipped' }
  | { readonly kind: 'stopped' };

/**
 * Asks for every figure of a run read by hand. A figure of an earlier run that the operator corrects is in the ledger when
 * this resolves; `skip` leaves the whole run for later.
 */
export async function askFigures(
  run: PlannedRun,
  workload: Workload,
  desk: Desk,
): Promise<HandOutcome> {
  const typed: TypedFigure[] = [];
  const metrics: MetricValue[] = [];
  const corrections: Correction[] = [];
  let confirmed = false;
  for (const metric of workload.metrics) {
    const ask = (): Promise<Answer> =>
      askFigure(figurePrompt(metric), metric, earlierFigures(workload, metric, desk), desk);
    let answer = await ask();
    while (answer.kind === 'correct') {
      await correctLast(typed, corrections, desk);
      answer = await ask();
    }
    if (answer.kind !== 'figure') return { kind: answer.kind === 'stop' ? 'stopped' : 'skipped' };
    const { id, unit, better } = metric;
    metrics.push({ id, value: answer.value, unit, better });
    typed.push({ ...figureName(run), metric, value: answer.value });
    confirmed ||= answer.confirmed;
  }
  return { kind: 'figures', metrics, confirmed, corrections };
}

/** Corrects the figure typed last: one of this run, which is not recorded yet, or else the last one recorded. */
async function correctLast(
  typed: TypedFigure[],
  corrections: Correction[],
  desk: Desk,
): Promise<void> {
  const own = typed.at(-1) ?? null;
  const figure = own ?? lastRecorded(desk);
  const correction = await askCorrection(figure, othersBeside(figure, desk), desk);
  if (correction === null) return;
  if (own === null) return desk.ledger.correct(correction);
  corrections.push(correction);
  typed[typed.length - 1] = { ...own, value: correction.to };
}

function lastRecorded({ ledger, workloads }: Desk): TypedFigure | null {
  const run = ledger.standing.findLast(({ entry }) => entry !== null);
  const metric = workloads.get(run?.workload ?? '')?.metrics.at(-1);
  const value = run?.metrics.find(({ id }) => id === metric?.id)?.value;
  if (run === undefined || metric === undefined || value === undefined) return null;
  return { ...figureName({ ...run, index: run.plan }), metric, value };
}

function figureName({
  index,
  workload,
  round,
}: Pick<PlannedRun, 'index' | 'workload' | 'round'>): Pick<
  TypedFigure,
  'plan' | 'workload' | 'round'
> {
  return { plan: index, workload, round };
}

/** Figures of the same workload and metric that are recorded. */
function earlierFigures({ id }: Workload, metric: Metric, { ledger }: Desk): readonly number[] {
  return valuesOf(
    ledger.standing.filter(({ workload }) => workload === id),
    metric,
  );
}

function othersBeside(figure: TypedFigure | null, { ledger }: Desk): readonly number[] {
  if (figure === null) return [];
  const others = ledger.standing.filter(
    ({ workload, plan }) => workload === figure.workload && plan !== figure.plan,
  );
  return valuesOf(others, figure.metric);
}

function valuesOf(
  runs: readonly { readonly metrics: readonly MetricValue[] }[],
  metric: Metric,
): readonly number[] {
  return runs.flatMap(({ metrics }) =>
    metrics.filter(({ id }) => id === metric.id).map(({ value }) => value),
  );
}
