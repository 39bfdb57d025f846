import type { SittingEvent } from '../model/event.ts';
import type { PlannedRun } from '../model/plan.ts';
import type { RunRecord } from '../model/run.ts';
import type { SittingState } from '../model/sitting.ts';
import type { Input } from '../model/suite.ts';
import { renderFindings } from './findings-page.ts';
import { formatDuration, formatQuantity } from './quantity.ts';

/** One plain line for an event (several for findings), as a pipe or log shows it; null for events that such a reader does not need. */
export function renderEvent(event: SittingEvent, planned: number): string | null {
  switch (event.type) {
    case 'rig-checked':
      return event.findings.length === 0 ? null : renderFindings(event.findings);
    case 'input-preparing':
      return `preparing input ${event.name}: ${preparationText(event.input)}`;
    case 'sitting-started':
      return `sitting started: ${event.runs} runs, about ${formatDuration(event.estimateSeconds)}, in ${event.folder}`;
    case 'sitting-continued':
      return `sitting continued: ${event.done} of ${event.runs} runs are done, about ${formatDuration(event.estimateSeconds)} left, in ${event.folder}`;
    case 'run-finished':
      return `run ${event.run.index + 1} of ${planned}: ${runName(event.run)}: ${runResult(event.record)}`;
    case 'run-left-out':
      return `run ${event.run.index + 1} of ${planned}: ${runName(event.run)}: left out, ${event.reason}`;
    case 'stop-requested':
      return stopText(event.signal, event.how);
    case 'figure-wanted':
      return `run ${event.run.index + 1} of ${planned}: ${runName(event.run)}: waiting for the operator`;
    case 'left-for-later':
      return `run ${event.run.index + 1} of ${planned}: ${runName(event.run)}: left for later, ${event.reason}`;
    case 'sealing':
      return 'sealing';
    case 'sitting-ended':
      return endText(event.state, event.failedRuns, event.folder);
    case 'notice':
      return event.message;
    case 'run-retried':
      return `run ${event.run.index + 1} of ${planned}: ${runName(event.run)}: tried again, ${event.reason}`;
    case 'workload-parked':
      return `${event.workload}: parked, ${event.reason}`;
    case 'cooldown-started':
    case 'cooldown-ended':
    case 'run-started':
    case 'step-started':
      return null;
  }
}

function preparationText(input: Input): string {
  if (input.kind !== 'generated') return `unpacking ${input.path}`;
  return `generating ${formatQuantity(input.sizeBytes, 'By')} of ${input.content}`;
}

/** `deflate-one, repeat 2`. */
export function runName({ workload, phase, round }: PlannedRun): string {
  return `${workload}, ${phase} ${round}`;
}

/** Its first figure, or why it failed. */
export function runResult({ failure, metrics, accounting }: RunRecord): string {
  if (failure !== null) return `FAILED, ${failure.code}: ${failure.message}`;
  const wall = accounting === null ? '' : ` in ${formatDuration(accounting.wallSeconds)}`;
  const [first] = metrics;
  if (first === undefined) return `done${wall}`;
  return `${first.id} ${formatQuantity(first.value, first.unit)}${wall}`;
}

function stopText(signal: string, how: 'after-run' | 'now'): string {
  return how === 'after-run'
    ? `${signal}: the run under way is finished, then the sitting ends; once more to end at once`
    : `${signal} again: ending at once`;
}

function endText(state: Exclude<SittingState, 'open'>, failedRuns: number, folder: string): string {
  if (state === 'waiting') {
    return `measured, and waiting for figures read by hand: steadyrig enter ${folder} figures.csv`;
  }
  if (state === 'interrupted') {
    return `interrupted: every finished run is in ${folder}, and the sitting can be continued`;
  }
  const failed = failedRuns === 0 ? 'all runs good' : `${failedRuns} runs FAILED`;
  if (state === 'cut-short') {
    return `its time is over; sealed with the runs that are there, ${failed}: ${folder}`;
  }
  return `complete and sealed, ${failed}: ${folder}`;
}
