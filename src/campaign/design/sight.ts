import type { Sight } from '../../model/design.ts';
import type { Column } from '../../stats/least-squares.ts';
import { independentColumns, leastSquares } from '../../stats/least-squares.ts';
import type { Variance } from '../../stats/pooled-variance.ts';
import { type Design, detectableEffect, powerOfT } from '../../stats/power-t.ts';
import { smallestWhole } from '../../stats/solve.ts';
import { columnsOf, type Geometry, isSameTerm, meanColumn, type Term } from './geometry.ts';

/** How far the means of further sittings lie apart, as a precision study has it. */
export interface StudyRow {
  readonly workload: string;
  readonly metric: string;
  /** Of the log of one sitting's mean, with the study's degrees of freedom. */
  readonly variance: Variance;
}

export interface Planned {
  readonly rigs: number;
  /** Of each rig. */
  readonly sittings: number;
  /** A fraction. */
  readonly differenceThatMatters: number;
}

const power = 0.8;
const mostSittings = 100;

/**
 * What the planned sittings show of a difference whose standard error is `unitError` times the spread of one sitting a rig: of the row
 * that shows least. Two sittings or more of a rig are judged by their own spread, pooled over the rigs; single ones by the study's.
 * On logarithms; each figure looked at alone, at a level of 5 %. Null without rows.
 */
export function sightOf(
  rows: readonly StudyRow[],
  unitError: number,
  planned: Planned,
): Sight | null {
  let worst: { readonly row: StudyRow; readonly detectable: number } | null = null;
  for (const row of rows) {
    const found = detectableEffect(designOf(row, unitError, planned, planned.sittings), power);
    if (found.ok && (worst === null || found.value > worst.detectable))
      worst = { row, detectable: found.value };
  }
  if (worst === null) return null;
  const { row, detectable } = worst;
  const effect = Math.log1p(planned.differenceThatMatters);
  const chance = (sittings: number): number => {
    const found = powerOfT(effect, designOf(row, unitError, planned, sittings));
    return found.ok ? found.value : 0;
  };
  const needed = smallestWhole({
    what: 'sittings',
    least: planned.sittings,
    most: mostSittings,
    isEnough: (sittings) => chance(sittings) >= power,
  });
  return {
    workload: row.workload,
    metric: row.metric,
    detectable: Math.expm1(detectable),
    power: chance(planned.sittings),
    sittingsNeeded: needed.ok ? needed.value : null,
  };
}

function designOf(
  { variance }: StudyRow,
  unitError: number,
  { rigs }: Planned,
  sittings: number,
): Design {
  return {
    standardError: unitError * Math.sqrt(variance.value / sittings),
    degreesOfFreedom: sittings === 1 ? variance.degreesOfFreedom : rigs * (sittings - 1),
  };
}

/** Standard error of a difference of two rigs, in spreads of one sitting. */
export const errorOfPair: number = Math.SQRT2;

/**
 * The same of a term's largest contrast: of a factor, a level against the first; of an interaction, a difference of such differences.
 * Fitted beside the terms of `beside`, from which it is separable.
 */
export function errorOfTerm(term: Term, beside: readonly Term[], geometry: Geometry): number {
  const own = contrastColumns(term, geometry);
  const rest = columnsOf(
    beside.filter((other) => !isSameTerm(other, term)),
    geometry,
  );
  const { kept } = independentColumns([meanColumn(geometry), ...rest, ...own]);
  const { unitErrors } = leastSquares(
    kept,
    geometry.cells.map(() => 0),
  );
  return Math.max(...own.map((column) => unitErrors[kept.indexOf(column)] ?? 0));
}

/** One where a run has the level of each factor, else zero: for every set of levels but the first. */
function contrastColumns(term: Term, { factors, cells }: Geometry): readonly Column[] {
  const levels = term.map(
    (name) => factors.find((factor) => factor.name === name)?.levels.slice(1) ?? [],
  );
  const sets = levels.reduce<readonly (readonly string[])[]>(
    (so, own) => so.flatMap((set) => own.map((level) => [...set, level])),
    [[]],
  );
  return sets.map((set) => ({
    name: `${term.join(' × ')}: ${set.join(', ')}`,
    values: cells.map((cell) => Number(term.every((name, at) => cell[name] === set[at]))),
  }));
}
