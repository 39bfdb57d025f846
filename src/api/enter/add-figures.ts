import { type PrivateLiteral, scrubText } from '../../lib/scrub-text.ts';
import { figureText } from '../../model/figure-text.ts';
import { correctionSchema } from '../../model/run.ts';
import type { Sitting } from '../../model/sitting.ts';
import { type HandFacts, handRecord } from '../../runner/by-hand/hand-record.ts';
import type { Ledger } from '../../runner/ledger.ts';
import { whyUnusual } from '../why-unusual.ts';
import type { MatchedFigures, PlacedFigure } from './match-figures.ts';

export interface EntryMoment {
  readonly now: Date;
  readonly literals: readonly PrivateLiteral[];
}

/**
 * Records what a file brings, corrections last. Resolves with a sentence for each figure that is unusual beside the others:
 * nobody can be asked about a file, so it is entered and said.
 */
export async function addFigures(
  { added, corrected }: MatchedFigures,
  sitting: Sitting,
  ledger: Ledger,
  { now, literals }: EntryMoment,
): Promise<readonly string[]> {
  const unusual: string[] = [];
  for (const figures of added) {
    unusual.push(...figures.flatMap((figure) => unusualText(figure, ledger)));
    const metrics = figures[0].workload.metrics.flatMap(({ id, unit, better }) =>
      figures
        .filter(({ metric }) => metric.id === id)
        .map(({ value }) => ({ id, value, unit, better })),
    );
    await ledger.record(
      handRecord(figures[0].run, metrics, {
        ...entryFacts(sitting, now),
        attempt: ledger.nextAttempt(figures[0].run.index),
        cooldown: null,
        entry: { by: 'file', confirmed: false },
      }),
    );
  }
  for (const figure of corrected) {
    unusual.push(...unusualText(figure, ledger));
    const { run, metric, value, from, row } = figure;
    await ledger.correct({
      ...{ schema: correctionSchema, plan: run.index, metric: metric.id, from, to: value },
      reason: scrubText(row.reason.text, literals).text,
      at: now.toISOString(),
    });
  }
  return unusual;
}

/** What is known of a figure that is entered after the sitting: nobody knows in which boot its program ran. */
export function entryFacts(
  { startedAt }: Sitting,
  now: Date,
): Pick<HandFacts, 'startedAt' | 'sinceStartSeconds' | 'bootId'> {
  const sinceStartSeconds = Math.max(0, (now.getTime() - Date.parse(startedAt)) / 1000);
  return { startedAt: now.toISOString(), sinceStartSeconds, bootId: null };
}

function unusualText({ run, metric, value }: PlacedFigure, ledger: Ledger): readonly string[] {
  const others = ledger.standing
    .filter(({ workload, plan }) => workload === run.workload && plan !== run.index)
    .flatMap(({ metrics }) => metrics.filter(({ id }) => id === metric.id));
  const why = whyUnusual(
    metric,
    value,
    others.map((other) => other.value),
  );
  if (why === null) return [];
  return [`${run.workload}, round ${run.round}: ${metric.id} ${figureText(value, metric)}: ${why}`];
}
