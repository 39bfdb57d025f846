import { openSuite } from '../../api/open-suite.ts';
import type { SittingOptions } from '../../api/options.ts';
import { runSitting, type SittingOutcome } from '../../api/run-sitting.ts';
import type { Refusal } from '../../api/sitting/refusal.ts';
import type { Result } from '../../lib/result.ts';
import { formatProblem } from '../../model/problem.ts';
import { renderCorrections } from '../../report/correction-lines.ts';
import { renderFindings } from '../../report/findings-page.ts';
import { renderSummary } from '../../report/summary-page.ts';
import { StopControl } from '../../runner/stop-control.ts';
import { summarizeSitting } from '../../stats/summarize-sitting.ts';
import { parseTemperature } from '../../suite/quantity.ts';
import { cacheFolder } from '../cache-folder.ts';
import { openEventLog } from '../event-log.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { findSuite } from '../find-suite.ts';
import { terminalOperator } from '../operator-prompt.ts';
import { print, printError, printJson, printProblems } from '../print.ts';
import { type Progress, startProgress } from '../progress.ts';
import { listenForStop } from '../stop-signals.ts';

export interface RunFlags {
  readonly rig: string;
  readonly profile?: string;
  readonly results: string;
  readonly seed?: number;
  readonly level: Readonly<Record<string, string>>;
  readonly assembly?: number;
  readonly ambient?: string;
  readonly notes?: string;
  readonly scratch?: string;
  readonly cache?: string;
  readonly skipMissing?: true;
  readonly portableMeter?: true;
  readonly telemetry: boolean;
  readonly log?: string;
  readonly unattended?: true;
  readonly json?: true;
}

export async function run(given: string, flags: RunFlags): Promise<ExitCode> {
  const loaded = await openSuite(findSuite(given), flags.profile);
  if (!loaded.ok) {
    printProblems(loaded.error);
    return exitCodes.badInput;
  }
  const options = readFlags(flags);
  if (!options.ok) {
    printError(options.error);
    return exitCodes.badInput;
  }
  const log = flags.log === undefined ? null : openEventLog(flags.log);
  if (log?.ok === false) {
    printError(log.error);
    return exitCodes.badInput;
  }
  const stream = flags.json ? process.stderr : process.stdout;
  const progress = startProgress(stream);
  const operator = flags.unattended ? null : terminalOperator(process.stdin, stream, progress);
  const stop = new StopControl();
  const onEvent: Progress['show'] = (event) => {
    progress.show(event);
    if (log?.ok) log.value(event);
  };
  const unlisten = listenForStop(stop, onEvent);
  try {
    const outcome = await runSitting(loaded.value, { ...options.value, operator, stop, onEvent });
    progress.end();
    return report(outcome, flags);
  } finally {
    progress.end();
    unlisten();
  }
}

function readFlags(flags: RunFlags): Result<SittingOptions, string> {
  const cache = cacheFolder(flags.cache);
  const ambient = flags.ambient === undefined ? null : parseTemperature(flags.ambient);
  if (ambient?.ok === false) return { ok: false, error: `option --ambient: ${ambient.error}` };
  return {
    ok: true,
    value: {
      rig: flags.rig,
      results: flags.results,
      levels: flags.level,
      assembly: flags.assembly ?? null,
      conditions: { ambientCelsius: ambient?.value ?? null, notes: flags.notes ?? null },
      portableMeter: flags.portableMeter ?? false,
      telemetry: flags.telemetry,
      skipMissing: flags.skipMissing ?? false,
      ...(cache === undefined ? {} : { cache }),
      ...(flags.seed === undefined ? {} : { seed: flags.seed }),
      ...(flags.scratch === undefined ? {} : { scratch: flags.scratch }),
    },
  };
}

function report(outcome: Result<SittingOutcome, Refusal>, { json }: RunFlags): ExitCode {
  if (!outcome.ok) return reportRefusal(outcome.error);
  const { sitting, runs, corrections, state, folder, findings } = outcome.value;
  const summary = summarizeSitting(sitting.suite.resolved, runs, corrections);
  if (json) printJson({ folder, state, findings, leftOut: sitting.leftOut, corrections, summary });
  else {
    if (findings.length > 0) print(renderFindings(findings));
    print(`\n${renderSummary(summary, runs, sitting.leftOut)}`);
    const corrected = renderCorrections(sitting.suite.resolved, runs, corrections);
    if (corrected.length > 0) print(['', ...corrected].join('\n'));
  }
  if (state !== 'complete') return exitCodes.interrupted;
  return runs.some(({ outcome: how }) => how === 'failed') ? exitCodes.failed : exitCodes.fine;
}

function reportRefusal(refusal: Refusal): ExitCode {
  switch (refusal.kind) {
    case 'bad-option':
      printError(formatProblem(refusal.problem));
      return exitCodes.badInput;
    case 'busy':
      printError(formatProblem(refusal.problem));
      return exitCodes.refused;
    case 'unfit':
      printError(renderFindings(refusal.findings));
      return exitCodes.refused;
    case 'write-failed':
      printError(formatProblem(refusal.problem));
      return exitCodes.interrupted;
  }
}
