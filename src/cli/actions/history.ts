import { historyOf } from '../../api/history-of.ts';
import { writeHistoryChart } from '../../api/write-history-chart.ts';
import { renderHistory } from '../../report/history/history-page.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { print, printError, printJson, printProblems } from '../print.ts';

interface HistoryFlags {
  readonly results: string;
  readonly suite?: string;
  readonly baseline?: number;
  readonly svg?: string;
  readonly verify: boolean;
  readonly json?: true;
}

/** Status 0 whenever there is a history, whatever it says. */
export async function history(
  rig: string,
  workloads: readonly string[],
  { json, svg, ...options }: HistoryFlags,
): Promise<ExitCode> {
  const read = await historyOf(rig, { ...options, workloads });
  if (!read.ok) {
    printProblems(read.error);
    return exitCodes.badInput;
  }
  for (const note of read.value.notes) printError(note);
  if (svg !== undefined) {
    const written = await writeHistoryChart(read.value, svg);
    if (!written.ok) {
      printProblems([written.error]);
      return exitCodes.badInput;
    }
    printError(`written: ${svg}`);
  }
  if (json) printJson(read.value);
  else print(renderHistory(read.value));
  return exitCodes.fine;
}
