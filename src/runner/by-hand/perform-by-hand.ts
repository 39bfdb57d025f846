import type { PlannedRun } from '../../model/plan.ts';
import type { CooldownRecord, RunRecord } from '../../model/run.ts';
import type { Workload } from '../../model/suite.ts';
import type { Desk } from './ask-figure.ts';
import { askFigures } from './ask-figures.ts';
import { type HandFacts, handRecord } from './hand-record.ts';

export interface HandSetting {
  /** Waits before the operator may start the program; null when there was nothing to wait for. */
  readonly cooldown: () => Promise<CooldownRecord | null>;
  /** Called when the figure is wanted. */
  readonly onWanted: () => void;
  /** What the record says about the moment in which the figure is wanted. */
  readonly facts: () => Omit<HandFacts, 'attempt' | 'cooldown' | 'entry'>;
}

export type HandEnd =
  | { readonly kind: 'recorded'; readonly record: RunRecord }
  | { readonly kind: 'skipped' }
  | { readonly kind: 'stopped' };

/**
 * One run read by hand: says what to start, waits, asks, and records the figures and their corrections. Nothing of the run
 * is recorded when it is skipped or the sitting is to end.
 */
export async function performByHand(
  run: PlannedRun,
  workload: Workload,
  desk: Desk,
  setting: HandSetting,
): Promise<HandEnd> {
  desk.operator.tell(introduction(run, workload));
  const cooldown = await setting.cooldown();
  if (desk.signal.aborted) return { kind: 'stopped' };
  setting.onWanted();
  const facts = setting.facts();
  desk.operator.tell('Start it now, and type what it shows; or: skip, correct');
  const answer = await askFigures(run, workload, desk);
  if (answer.kind !== 'figures') return answer;
  const { metrics, confirmed, corrections } = answer;
  const record = handRecord(run, metrics, {
    ...facts,
    attempt: desk.ledger.nextAttempt(run.index),
    cooldown,
    entry: { by: 'operator', confirmed },
  });
  await desk.ledger.record(record);
  for (const correction of corrections) await desk.ledger.correct(correction);
  return { kind: 'recorded', record };
}

function introduction({ round, workload }: PlannedRun, { title, program }: Workload): string {
  const instruction = program.kind === 'by-hand' ? program.instruction.trim() : '';
  return `By hand: ${title} (${workload}, repeat ${round})\n${instruction}`;
}
