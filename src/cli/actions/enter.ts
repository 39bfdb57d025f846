import { type EntryOutcome, enterFigures, type FigureSource } from '../../api/enter-figures.ts';
import { openRuns } from '../../api/open-runs.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Problem } from '../../model/problem.ts';
import { isFinished } from '../../model/sitting.ts';
import { missingText, renderFigureTemplate } from '../../report/missing-figures.ts';
import { wrapText } from '../../report/text-table.ts';
import { readSitting } from '../../results/read-sitting.ts';
import { StopControl } from '../../runner/stop-control.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { findSitting } from '../find-sitting.ts';
import { terminalOperator } from '../operator-prompt.ts';
import { print, printError, printJson, printProblems } from '../print.ts';
import { listenForStop } from '../stop-signals.ts';

interface EnterFlags {
  readonly results: string;
  readonly template?: true;
  readonly json?: true;
}

export async function enter(
  given: string,
  file: string | undefined,
  flags: EnterFlags,
): Promise<ExitCode> {
  const folder = findSitting(given, flags.results);
  if (!folder.ok) return refuse([folder.error]);
  if (flags.template) return printTemplate(folder.value);
  const stop = new StopControl();
  const source = figureSource(file, flags, stop);
  if (!source.ok) {
    printError(source.error);
    return exitCodes.badInput;
  }
  const unlisten = listenForStop(stop, () => undefined);
  try {
    const outcome = await enterFigures(folder.value, source.value);
    return outcome.ok ? report(outcome.value, flags) : refuse(outcome.error);
  } finally {
    unlisten();
  }
}

function figureSource(
  file: string | undefined,
  { json }: EnterFlags,
  stop: StopControl,
): Result<FigureSource, string> {
  if (file !== undefined) return ok({ kind: 'file', path: file });
  const operator = terminalOperator(process.stdin, json ? process.stderr : process.stdout);
  if (operator !== null) return ok({ kind: 'operator', operator, stop });
  return err(
    'no file is given, and nobody can be asked without a terminal: name a CSV of figures (--template prints one to fill in)',
  );
}

async function printTemplate(folder: string): Promise<ExitCode> {
  const stored = await readSitting(folder);
  if (!stored.ok) return refuse([stored.error]);
  const { sitting } = stored.value;
  const suite = sitting.suite.resolved;
  const { byHand } = openRuns(suite, sitting, stored.value);
  print(renderFigureTemplate(suite, byHand));
  return exitCodes.fine;
}

function refuse(problems: readonly Problem[]): ExitCode {
  printProblems(problems);
  const codes = new Set(problems.map(({ code }) => code));
  if (codes.has('rig-busy')) return exitCodes.refused;
  return codes.has('write-failed') ? exitCodes.interrupted : exitCodes.badInput;
}

function report(outcome: EntryOutcome, { json }: EnterFlags): ExitCode {
  const { folder, sitting, addedRuns, correctedFigures, missing, unusual } = outcome;
  const { state } = sitting;
  if (json) printJson({ folder, state, addedRuns, correctedFigures, missing, unusual });
  else {
    for (const text of unusual) print(wrapText(`unusual: ${text}; check it`, 80, '  '));
    print(`runs entered: ${addedRuns}, figures corrected: ${correctedFigures}`);
    print(wrapText(stateText(outcome), 80, '  '));
  }
  return isFinished(sitting.state) ? exitCodes.fine : exitCodes.interrupted;
}

function stateText({ folder, sitting, missing }: EntryOutcome): string {
  if (isFinished(sitting.state)) return `${sitting.state} and sealed: ${folder}`;
  const byHand = missing.byHand.length === 0 ? '' : `to enter: ${missingText(missing.byHand)}`;
  const measured = missing.measured === 0 ? '' : `${missing.measured} runs still to be measured`;
  return `${sitting.state}, not sealed: ${[byHand, measured].filter((text) => text !== '').join('; ')}`;
}
