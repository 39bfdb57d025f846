/**
 * Something wrong with what the user gave us: a suite file, an option, a result folder. Expected, so a value.
 * `message` holds subject, what was found, what was expected and what to do; no final period.
 */
export interface Problem {
  readonly code: ProblemCode;
  /** As the user named it; null where the problem is not in a file. */
  readonly file: string | null;
  /** 1-based; null where no place in the file can be named. */
  readonly line: number | null;
  /** 1-based, in UTF-16 units. */
  readonly column: number | null;
  readonly message: string;
}

/** Every code is explained in README.md ("Messages"); a test checks that. */
export const problemCodes = [
  'file-unreadable',
  'file-too-large',
  'file-not-text',
  'yaml-syntax',
  'yaml-limits',
  'suite-invalid',
  'campaign-invalid',
  'file-writable',
  'figures-invalid',
  'option-invalid',
  'not-comparable',
  'folder-invalid',
  'journal-damaged',
  'record-invalid',
  'schema-too-new',
  'rig-busy',
  'rig-unfit',
  'write-failed',
] as const;
export type ProblemCode = (typeof problemCodes)[number];

/** A problem without a place: of a file or folder as a whole, or of none. */
export function plainProblem(
  code: ProblemCode,
  message: string,
  file: string | null = null,
): Problem {
  return { code, file, line: null, column: null, message };
}

/** `file:line:column: message`, leaving out what is not known. */
export function formatProblem(problem: Problem): string {
  const place = [problem.file, problem.line, problem.column].filter((part) => part !== null);
  return place.length === 0 ? problem.message : `${place.join(':')}: ${problem.message}`;
}
