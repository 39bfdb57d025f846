import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { gatherReport } from '../../api/report/gather-report.ts';
import { makePage } from '../../api/report/make-page.ts';
import { writeCharts } from '../../api/report/write-charts.ts';
import { makeFoldersDurably, writeFileDurably } from '../../lib/durable-fs.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import type { Report } from '../../model/report.ts';
import { reportTables } from '../../report/figures/report-csv.ts';
import { renderReportMarkdown } from '../../report/report-markdown.ts';
import { renderReportText } from '../../report/report-text.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { print, printError, printExactly, printJson, printProblems } from '../print.ts';

interface ReportFlags {
  readonly out?: string;
  readonly replace?: true;
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
  readonly tables?: string;
  readonly charts?: string;
  readonly only?: string;
  readonly transparent?: true;
}

/** Status 0 whenever a report was made, whatever it says. */
export async function report(rigs: readonly string[], flags: ReportFlags): Promise<ExitCode> {
  const { out, replace, text, markdown, json, tables, charts, only, transparent, ...options } =
    flags;
  const others = [text, markdown, json, tables, charts];
  const page = out ?? (others.some((one) => one !== undefined) ? undefined : 'report.html');
  const faults = replace === true ? [] : [page].flatMap((path) => presentFault(path));
  if (faults.length > 0) return refuse(faults);
  const gathered = await gatherReport(rigs, options);
  if (!gathered.ok) return refuse(gathered.error);
  for (const note of gathered.value.notes) printError(note);
  const found = gathered.value.report;
  const files = new Map<string, string>();
  if (page !== undefined) files.set(page, await makePage(found));
  if (tables !== undefined)
    for (const [name, content] of reportTables(found)) files.set(join(tables, name), content);
  const written = await writeAll(files, { replace: replace === true, folder: tables ?? null });
  if (!written.ok) return refuse([written.error]);
  const drawn =
    charts === undefined
      ? ok([])
      : await writeCharts(found, {
          folder: charts,
          only: only ?? null,
          isTransparent: transparent === true,
          replace: replace === true,
        });
  if (!drawn.ok) return refuse([drawn.error]);
  show(found, { text, markdown, json });
  for (const path of [...files.keys(), ...drawn.value]) printError(`written: ${path}`);
  return exitCodes.fine;
}

function refuse(problems: readonly Problem[]): ExitCode {
  printProblems(problems);
  return exitCodes.badInput;
}

function presentFault(path: string | undefined): readonly Problem[] {
  if (path === undefined || !existsSync(path)) return [];
  const message = `${path} is there already: name another file with --out, or say --replace`;
  return [plainProblem('option-invalid', message)];
}

async function writeAll(
  files: ReadonlyMap<string, string>,
  { replace, folder }: { readonly replace: boolean; readonly folder: string | null },
): Promise<Result<null, Problem>> {
  const faults = replace ? [] : [...files.keys()].flatMap(presentFault);
  if (faults[0] !== undefined) return err(faults[0]);
  let path = folder ?? '';
  try {
    if (folder !== null) await makeFoldersDurably(folder);
    for (const [name, content] of files) {
      path = name;
      await writeFileDurably(name, content);
    }
    return ok(null);
  } catch (error) {
    const message = `cannot be written: ${(error as Error).message}`;
    return err(plainProblem('write-failed', message, path));
  }
}

function show(found: Report, flags: { readonly [name: string]: true | undefined }): void {
  if (flags['json']) printJson(found);
  if (flags['markdown']) printExactly(renderReportMarkdown(found));
  if (flags['text']) print(renderReportText(found));
}
