import { dirname, normalize } from 'node:path';
import { readJournal } from '../../journal/reader.ts';
import type { SealReport } from '../../model/seal-report.ts';
import { renderSealReport } from '../../report/seal-page.ts';
import { liesBeside, sittingPaths } from '../../results/layout.ts';
import { verifySeal } from '../../results/verify.ts';
import { verifyBeside } from '../../results/verify-beside.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { findSitting } from '../find-sitting.ts';
import { print, printError, printJson, printProblems } from '../print.ts';

interface VerifyFlags {
  readonly results: string;
  readonly json?: true;
}

export async function verify(
  given: readonly string[],
  { results, json }: VerifyFlags,
): Promise<ExitCode> {
  if (given.length === 0) {
    printError('nothing to verify: name sittings, such as results/* or latest');
    return exitCodes.badInput;
  }
  const reports: SealReport[] = [];
  const folders = new Set<string>();
  for (const name of given) {
    // `results/*` names them too.
    if (liesBeside(name)) {
      folders.add(dirname(normalize(name)));
      continue;
    }
    const folder = findSitting(name, results);
    if (!folder.ok) {
      printProblems([folder.error]);
      return exitCodes.badInput;
    }
    reports.push(await verifySitting(folder.value));
    folders.add(dirname(normalize(folder.value)));
  }
  for (const folder of folders) reports.push(...(await verifyBeside(folder)));
  if (json) printJson(reports);
  else for (const report of reports) print(renderSealReport(report));
  const whole = reports.every(({ sealed, findings }) => sealed && findings.length === 0);
  return whole ? exitCodes.fine : exitCodes.failed;
}

/** The seal file by file; where the journal is damaged, the line as well. */
async function verifySitting(folder: string): Promise<SealReport> {
  const report = await verifySeal(folder);
  const damaged = report.findings.some(({ path }) => path === 'data/runs.jsonl');
  const journal = damaged ? await readJournal(sittingPaths(folder).journal) : null;
  if (journal === null || journal.ok) return report;
  const { line, message } = journal.error;
  const findings = report.findings.map((finding) =>
    finding.path === 'data/runs.jsonl'
      ? { ...finding, detail: `${finding.detail}; line ${line ?? '?'}: ${message}` }
      : finding,
  );
  return { ...report, findings };
}
