import type { CsvField } from '../../lib/csv-rows.ts';
import { groupBy } from '../../lib/group-by.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import { suggest } from '../../lib/suggest.ts';
import { figureText } from '../../model/figure-text.ts';
import type { PlannedRun } from '../../model/plan.ts';
import type { Problem } from '../../model/problem.ts';
import type { RunRecord } from '../../model/run.ts';
import type { Sitting } from '../../model/sitting.ts';
import type { Metric, Workload } from '../../model/suite.ts';
import { parseFigure } from '../../runner/by-hand/parse-figure.ts';
import { type FigureRow, figureProblem } from './figure-rows.ts';

/** A figure that a row gives, in base units, and where it belongs. */
export interface PlacedFigure {
  readonly row: FigureRow;
  readonly run: PlannedRun;
  readonly workload: Workload;
  readonly metric: Metric;
  readonly value: number;
}

/** What a file brings to a sitting. */
export interface MatchedFigures {
  /** Of runs without a record, all figures of a run together, in the order of the plan. */
  readonly added: readonly (readonly [PlacedFigure, ...PlacedFigure[]])[];
  /** Of recorded figures; `from` is what stands. */
  readonly corrected: readonly (PlacedFigure & { readonly from: number })[];
}

type Placed = Result<PlacedFigure, Problem>;

/**
 * Puts each row of a figure file in its place, and finds all problems at once. Rows without a value are left out, and so are
 * figures that stand already. `standing` are the sitting's runs that count, corrections applied.
 */
export function matchFigures(
  rows: readonly FigureRow[],
  file: string,
  sitting: Sitting,
  standing: readonly RunRecord[],
): Result<MatchedFigures, readonly Problem[]> {
  const filled = rows.filter(({ value }) => value.text !== '');
  const placed = filled.map((row) => placeRow(row, file, sitting));
  const problems = placed.flatMap((figure) => (figure.ok ? [] : [figure.error]));
  const figures = placed.flatMap((figure) => (figure.ok ? [figure.value] : []));
  problems.push(...doubles(figures, file));
  const entered = standing.filter(({ entry }) => entry !== null);
  const recorded = new Map(entered.map((run) => [run.plan, run]));
  const corrected = figures.flatMap((figure) => {
    const from = recorded.get(figure.run.index)?.metrics.find(({ id }) => id === figure.metric.id);
    return from === undefined || from.value === figure.value
      ? []
      : [{ ...figure, from: from.value }];
  });
  problems.push(...withoutReason(corrected, file));
  const added = byRun(figures.filter(({ run }) => !recorded.has(run.index)));
  // A figure that was refused is not missing besides.
  if (problems.length === 0) problems.push(...incomplete(added, file));
  return problems.length > 0 ? err(problems.sort(byPlace)) : ok({ added, corrected });
}

function placeRow(row: FigureRow, file: string, sitting: Sitting): Placed {
  const refuse = (field: CsvField, message: string): Placed =>
    err(figureProblem(file, message, field));
  const byHand = sitting.suite.resolved.workloads.filter(
    ({ program }) => program.kind === 'by-hand',
  );
  const workload = byHand.find(({ id }) => id === row.workload.text);
  if (workload === undefined) return refuse(row.workload, workloadFault(row, byHand, sitting));
  const metric = workload.metrics.find(({ id }) => id === row.metric.text);
  if (metric === undefined) {
    const ids = workload.metrics.map(({ id }) => id);
    return refuse(row.metric, unknown('metric', row.metric.text, ids, ` of ${workload.id}`));
  }
  const rounds = sitting.plan.runs.filter((run) => run.workload === workload.id);
  const run = rounds.find(({ round }) => String(round) === row.round.text);
  if (run === undefined) {
    const message = `round ${shown(row.round.text)} is not planned; expected 1 to ${rounds.length}`;
    return refuse(row.round, message);
  }
  if (row.unit.text !== '' && /\p{L}$/u.test(row.value.text)) {
    return refuse(
      row.value,
      'the unit stands beside the value and in its own column; leave one out',
    );
  }
  const figure = parseFigure(`${row.value.text} ${row.unit.text}`, metric);
  if (!figure.ok) return refuse(row.value, figure.error);
  return ok({ row, run, workload, metric, value: figure.value });
}

function workloadFault(
  { workload: { text } }: FigureRow,
  byHand: readonly Workload[],
  sitting: Sitting,
): string {
  if (sitting.suite.resolved.workloads.some(({ id }) => id === text)) {
    return `${text} is measured, not read by hand: its figures cannot be entered`;
  }
  const ids = byHand.map(({ id }) => id);
  return unknown('workload', text, ids, ' read by hand in this sitting');
}

function unknown(kind: string, text: string, known: readonly string[], where: string): string {
  const near = suggest(text, known);
  if (near !== null) return `unknown ${kind} ${shown(text)}; did you mean ${near}?`;
  const expected = known.length === 0 ? 'there is none' : `expected ${known.join(', ')}`;
  return `${shown(text)} is no ${kind}${where}; ${expected}`;
}

function shown(text: string): string {
  return JSON.stringify(text.slice(0, 40));
}

function doubles(figures: readonly PlacedFigure[], file: string): readonly Problem[] {
  const first = new Map<string, FigureRow>();
  return figures.flatMap(({ run, metric, row }) => {
    const key = `${run.index} ${metric.id}`;
    const before = first.get(key);
    if (before === undefined) {
      first.set(key, row);
      return [];
    }
    const message = `${run.workload}, round ${run.round}, ${metric.id} is on line ${before.workload.line} already`;
    return [figureProblem(file, message, row.workload)];
  });
}

function withoutReason(corrected: MatchedFigures['corrected'], file: string): readonly Problem[] {
  return corrected
    .filter(({ row }) => row.reason.text === '')
    .map(({ row, run, metric, from }) => {
      const message = `${run.workload}, round ${run.round}, ${metric.id} is recorded as ${figureText(from, metric)}; to correct it, give a reason in the column reason`;
      return figureProblem(file, message, row.value);
    });
}

function byRun(figures: readonly PlacedFigure[]): MatchedFigures['added'] {
  const runs = groupBy(figures, ({ run }) => String(run.index));
  return [...runs.values()].sort(([a], [b]) => a.run.index - b.run.index);
}

/** A run is recorded as a whole: every metric has its figure. */
function incomplete(added: MatchedFigures['added'], file: string): readonly Problem[] {
  return added.flatMap((figures) => {
    const [{ row, run, workload }] = figures;
    const given = figures.map(({ metric }) => metric.id);
    const absent = workload.metrics.map(({ id }) => id).filter((id) => !given.includes(id));
    if (absent.length === 0) return [];
    const message = `${run.workload}, round ${run.round} has no figure for ${absent.join(', ')}; a run is entered with all its figures`;
    return [figureProblem(file, message, row.workload)];
  });
}

function byPlace(a: Problem, b: Problem): number {
  return (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0);
}
