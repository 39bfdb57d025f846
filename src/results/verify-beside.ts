import { basename } from 'node:path';
import type { Problem } from '../model/problem.ts';
import type { SealReport } from '../model/seal-report.ts';
import { exclusionsPath } from './layout.ts';
import { readExclusions } from './read-exclusions.ts';
import { readStudies } from './read-studies.ts';

/** A report for each file that lies beside the sittings of a results folder: they carry checksums of their own. */
export async function verifyBeside(results: string): Promise<readonly SealReport[]> {
  const exclusions = await readExclusions(results);
  const reports: SealReport[] = [];
  if (!exclusions.ok) reports.push(fileReport(exclusionsPath(results), exclusions.error));
  else if (exclusions.value.lines.length > 0) reports.push(fileReport(exclusions.value.path, null));
  const studies = await readStudies(results);
  if (!studies.ok) return [...reports, fileReport(studies.error.file ?? results, studies.error)];
  return [
    ...reports,
    ...studies.value.studies.map(({ path }) => fileReport(path, null)),
    ...studies.value.problems.map((problem) => fileReport(problem.file ?? results, problem)),
  ];
}

function fileReport(path: string, problem: Problem | null): SealReport {
  const findings =
    problem === null
      ? []
      : [
          {
            kind: 'damaged' as const,
            path: basename(path),
            detail:
              problem.line === null ? problem.message : `line ${problem.line}: ${problem.message}`,
          },
        ];
  return { folder: path, sealed: true, invented: false, checkedFiles: 1, findings };
}
