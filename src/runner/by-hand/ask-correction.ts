import { scrubText } from '../../lib/scrub-text.ts';
import { figureText } from '../../model/figure-text.ts';
import { type Correction, correctionSchema } from '../../model/run.ts';
import type { Metric } from '../../model/suite.ts';
import { askFigure, type Desk, figurePrompt } from './ask-figure.ts';

/** A figure that was typed in before. */
export interface TypedFigure {
  readonly plan: number;
  readonly workload: string;
  readonly round: number;
  readonly metric: Metric;
  /** As it stands; base unit. */
  readonly value: number;
}

/** Asks for the right figure and why the one before was wrong; null when nothing is to be corrected after all. */
export async function askCorrection(
  figure: TypedFigure | null,
  earlier: readonly number[],
  desk: Desk,
): Promise<Correction | null> {
  const { operator } = desk;
  if (figure === null) {
    operator.tell('there is no figure to correct yet');
    return null;
  }
  const { metric, value, workload, round, plan } = figure;
  const before = figureText(value, metric);
  operator.tell(`correcting ${workload}, repeat ${round}: ${metric.id} is ${before} so far`);
  const answer = await askFigure(`corrected ${figurePrompt(metric)}`, metric, earlier, desk);
  if (answer.kind !== 'figure' || answer.value === value) {
    operator.tell(`nothing corrected: ${metric.id} stays ${before}`);
    return null;
  }
  const reason = await askReason(desk);
  if (reason === null) {
    operator.tell(`nothing corrected: ${metric.id} stays ${before}`);
    return null;
  }
  operator.tell(`corrected: ${before}, now ${figureText(answer.value, metric)}`);
  const at = desk.now().toISOString();
  return {
    schema: correctionSchema,
    plan,
    metric: metric.id,
    from: value,
    to: answer.value,
    reason,
    at,
  };
}

async function askReason({ operator, signal, literals }: Desk): Promise<string | null> {
  for (;;) {
    const line = await operator.ask('reason for the correction: ', signal);
    const reason = line?.trim() ?? 'skip';
    if (signal.aborted || reason.toLowerCase() === 'skip') return null;
    if (reason !== '') return scrubText(reason, literals).text;
    operator.tell('a correction needs a reason, such as "two digits swapped"; skip leaves it');
  }
}
