import { gatherReport } from '../../api/report/gather-report.ts';
import type { Report } from '../../model/report.ts';
import { renderReportMarkdown } from '../../report/report-markdown.ts';
import { renderReportText } from '../../report/report-text.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { indexPlace } from '../index-place.ts';
import { print, printError, printExactly, printJson, printProblems } from '../print.ts';
import { type OutputFlags, presentFault, writeOutputs } from '../report/write-outputs.ts';

interface ReportFlags extends OutputFlags {
  readonly baseline?: string;
  readonly results: string;
  readonly suite?: string;
  readonly matters?: number;
  readonly confidence?: number;
  readonly allowRevision?: true;
  readonly verify: boolean;
  readonly text?: true;
  readonly markdown?: true;
  readonly json?: true;
}

/** Status 0 whenever a report was made, whatever it says. */
export async function report(rigs: readonly string[], flags: ReportFlags): Promise<ExitCode> {
  const outputs = withPage(flags);
  const fault = presentFault(outputs);
  if (fault !== null) {
    printProblems([fault]);
    return exitCodes.badInput;
  }
  const gathered = await gatherReport(rigs, { ...flags, index: indexPlace() });
  if (!gathered.ok) {
    printProblems(gathered.error);
    return exitCodes.badInput;
  }
  for (const note of gathered.value.notes) printError(note);
  const written = await writeOutputs(gathered.value, outputs);
  if (!written.ok) {
    printProblems([written.error]);
    return exitCodes.badInput;
  }
  show(gathered.value.report, flags);
  for (const line of written.value) printError(line);
  return exitCodes.fine;
}

/** The page is what is made where nothing else is asked for. */
function withPage(flags: ReportFlags): OutputFlags {
  const { text, markdown, json, tables, charts, publish } = flags;
  const others = [text, markdown, json, tables, charts, publish];
  return others.every((one) => one === undefined) ? { out: 'report.html', ...flags } : flags;
}

function show(report: Report, { text, markdown, json }: ReportFlags): void {
  if (json) printJson(report);
  if (markdown) printExactly(renderReportMarkdown(report));
  if (text) print(renderReportText(report));
}
