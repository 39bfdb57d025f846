import type { SittingSubject } from '../api/notice/end-watcher.ts';
import type { SittingOptions } from '../api/options.ts';
import type { SittingOutcome } from '../api/run-sitting.ts';
import type { Refusal } from '../api/sitting/refusal.ts';
import type { Result } from '../lib/result.ts';
import { leftOutWorkloads } from '../model/parked-workloads.ts';
import { formatProblem } from '../model/problem.ts';
import { isFinished } from '../model/sitting.ts';
import { standingRuns } from '../model/standing-runs.ts';
import { renderChanges } from '../report/change-lines.ts';
import { renderCorrections } from '../report/correction-lines.ts';
import { renderFindings } from '../report/findings-page.ts';
import { renderSummary } from '../report/summary-page.ts';
import { StopControl } from '../runner/stop-control.ts';
import { summarizeSitting } from '../stats/summarize-sitting.ts';
import { openEventLog } from './event-log.ts';
import { type ExitCode, exitCodes } from './exit-codes.ts';
import { type NotifyFlags, readNotifyTargets } from './notify-targets.ts';
import { terminalOperator } from './operator-prompt.ts';
import { print, printError, printJson } from './print.ts';
import { type Progress, startProgress } from './progress.ts';
import { listenForStop } from './stop-signals.ts';
import { endTeller } from './tell-of-end.ts';

export interface ConductFlags extends NotifyFlags {
  readonly log?: string;
  readonly unattended?: true;
  readonly json?: true;
  /** False with `--no-inhibit`. */
  readonly inhibit: boolean;
}

/** How a sitting meets whoever sits before the screen. */
type Ports = Required<Pick<SittingOptions, 'operator' | 'stop' | 'onEvent' | 'holdsOffSleep'>>;

/** What is told of a sitting beside its figures. */
export interface Addition {
  /** Below the figures. */
  readonly page: string;
  /** Beside them in JSON. */
  readonly json: Readonly<Record<string, unknown>>;
}

/** Shows a sitting while it is measured, lets signals end it, and prints what came out of it, with what `add` makes of it. */
export async function conduct(
  flags: ConductFlags,
  subject: SittingSubject,
  measure: (ports: Ports) => Promise<Result<SittingOutcome, Refusal>>,
  add: (outcome: SittingOutcome) => Promise<Addition | null> = async () => null,
): Promise<ExitCode> {
  const log = flags.log === undefined ? null : openEventLog(flags.log);
  if (log?.ok === false) {
    printError(log.error);
    return exitCodes.badInput;
  }
  const targets = readNotifyTargets(flags);
  if (!targets.ok) {
    printError(targets.error);
    return exitCodes.badInput;
  }
  const stream = flags.json ? process.stderr : process.stdout;
  const teller = endTeller(targets.value, subject, stream);
  const progress = startProgress(stream);
  const operator = flags.unattended ? null : terminalOperator(process.stdin, stream, progress);
  const stop = new StopControl();
  const onEvent: Progress['show'] = (event) => {
    progress.show(event);
    if (log?.ok) log.value(event);
    teller.see(event);
  };
  const unlisten = listenForStop(stop, onEvent);
  try {
    const holdsOffSleep = flags.inhibit && process.env['STEADYRIG_NO_INHIBIT'] === undefined;
    const outcome = await measure({ operator, stop, onEvent, holdsOffSleep });
    progress.end();
    unlisten();
    const code = report(outcome, flags, outcome.ok ? await add(outcome.value) : null);
    await teller.tell(outcome, code);
    return code;
  } catch (error) {
    progress.end();
    await teller.tell(null, exitCodes.internal);
    throw error;
  } finally {
    progress.end();
    unlisten();
  }
}

function report(
  outcome: Result<SittingOutcome, Refusal>,
  { json }: ConductFlags,
  addition: Addition | null,
): ExitCode {
  if (!outcome.ok) return reportRefusal(outcome.error);
  const { sitting, runs, corrections, state, folder, findings } = outcome.value;
  const summary = summarizeSitting(sitting.suite.resolved, runs, corrections);
  const leftOut = leftOutWorkloads(sitting, runs);
  if (json)
    printJson({ folder, state, findings, leftOut, corrections, summary, ...addition?.json });
  else {
    print(`\n${renderSummary(summary, runs, leftOut)}`);
    const corrected = renderCorrections(sitting.suite.resolved, runs, corrections);
    if (corrected.length > 0) print(['', ...corrected].join('\n'));
    if (addition !== null) print(`\n${addition.page}`);
  }
  if (!isFinished(state)) return exitCodes.interrupted;
  const isParked = leftOut.length > sitting.leftOut.length;
  const isFailed = standingRuns(runs, corrections).some(({ failure }) => failure !== null);
  return isParked || isFailed ? exitCodes.failed : exitCodes.fine;
}

function reportRefusal(refusal: Refusal): ExitCode {
  switch (refusal.kind) {
    case 'bad-option':
    case 'bad-folder':
      printError(formatProblem(refusal.problem));
      return exitCodes.badInput;
    case 'busy':
    case 'gave-up':
      printError(formatProblem(refusal.problem));
      return exitCodes.refused;
    case 'unfit':
      printError(renderFindings(refusal.findings));
      return exitCodes.refused;
    case 'changed':
      printError(renderChanges(refusal.changes));
      return exitCodes.refused;
    case 'write-failed':
      printError(formatProblem(refusal.problem));
      return exitCodes.interrupted;
  }
}
