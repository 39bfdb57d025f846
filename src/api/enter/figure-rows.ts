import { type CsvField, parseCsvRows } from '../../lib/csv-rows.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import { suggest } from '../../lib/suggest.ts';
import type { Problem } from '../../model/problem.ts';

const figureColumns = ['workload', 'round', 'metric', 'value', 'unit', 'reason'] as const;
type FigureColumn = (typeof figureColumns)[number];
const needed: readonly FigureColumn[] = ['workload', 'round', 'metric', 'value'];

/** A row of a figure file; `unit` and `reason` are empty where the file has no such column. */
export type FigureRow = Readonly<Record<FigureColumn, CsvField>>;

/** Rows below the heading, in the order of the file; all problems with heading and lengths at once. */
export function parseFigureRows(
  text: string,
  file: string,
): Result<readonly FigureRow[], readonly Problem[]> {
  const parsed = parseCsvRows(text);
  if (!parsed.ok) return err([figureProblem(file, parsed.error.message, parsed.error)]);
  const [heading, ...rows] = parsed.value;
  if (heading === undefined) {
    return err([figureProblem(file, `is empty; expected the heading ${needed.join(',')}`)]);
  }
  const faults = headingProblems(heading, file);
  if (faults.length > 0) return err(faults);
  const names = heading.map(({ text: name }) => name);
  const problems = rows.flatMap((row) => lengthProblem(row, names.length, file));
  return problems.length > 0 ? err(problems) : ok(rows.map((row) => toFigureRow(row, names)));
}

/** A problem of a figure file at a place in it. */
export function figureProblem(
  file: string,
  message: string,
  at: { readonly line?: number; readonly column?: number } = {},
): Problem {
  return {
    code: 'figures-invalid',
    file,
    line: at.line ?? null,
    column: at.column ?? null,
    message,
  };
}

function headingProblems(heading: readonly CsvField[], file: string): readonly Problem[] {
  const names = heading.map(({ text }) => text);
  const strange = heading.flatMap((field, at) => {
    const { text } = field;
    if (!(figureColumns as readonly string[]).includes(text)) {
      return [figureProblem(file, unknownColumn(text), field)];
    }
    return names.indexOf(text) === at
      ? []
      : [figureProblem(file, `the column ${text} is there twice`, field)];
  });
  const absent = needed.filter((name) => !names.includes(name));
  // A heading that is wrong as a whole is one problem, not one for each column.
  if (strange.length > 0 || absent.length === 0) return strange;
  const message = `the heading has no column ${absent.join(', ')}; expected ${needed.join(',')} and, if wanted, unit and reason`;
  return [figureProblem(file, message, heading[0])];
}

function unknownColumn(name: string): string {
  if (/[;\t]/.test(name)) return 'the heading has no commas; separate columns by commas';
  const near = suggest(name, figureColumns);
  const hint = near === null ? `expected ${figureColumns.join(', ')}` : `did you mean ${near}?`;
  return `unknown column ${JSON.stringify(name.slice(0, 40))}; ${hint}`;
}

function lengthProblem(
  row: readonly CsvField[],
  expected: number,
  file: string,
): readonly Problem[] {
  if (row.length === expected) return [];
  const hint =
    row.length > expected
      ? '; write decimal signs as points, and put a value that holds a comma in quotation marks'
      : '; end the row with commas where values are empty';
  const message = `${row.length} values, expected ${expected} as in the heading${hint}`;
  return [figureProblem(file, message, row[0])];
}

function toFigureRow(row: readonly CsvField[], names: readonly string[]): FigureRow {
  const [first] = row;
  const empty = { text: '', line: first?.line ?? 1, column: first?.column ?? 1 };
  const entries = figureColumns.map((name) => [name, row[names.indexOf(name)] ?? empty] as const);
  return Object.fromEntries(entries) as Record<FigureColumn, CsvField>;
}
