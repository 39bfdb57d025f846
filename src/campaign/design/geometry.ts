import type { Factor } from '../../model/campaign.ts';
import { type FactorRun, termColumns } from '../../stats/factor-columns.ts';
import type { Column } from '../../stats/least-squares.ts';
import { designRank } from './design-rank.ts';

/** A level for each factor. */
export type Cell = Readonly<Record<string, string>>;

/** A main effect or an interaction, by the ids of its factors. */
export type Term = readonly string[];

/** What rigs vary: the factors of which they have two levels or more, with those levels. */
export interface Geometry {
  readonly cells: readonly Cell[];
  readonly factors: readonly { readonly name: string; readonly levels: readonly string[] }[];
  readonly mains: readonly Term[];
  /** All interactions of two factors. */
  readonly pairs: readonly Term[];
}

export function geometryOf(factors: readonly Factor[], cells: readonly Cell[]): Geometry {
  const varied = factors
    .map(({ id, levels }) => ({
      name: id,
      levels: levels.filter((level) => cells.some((cell) => cell[id] === level)),
    }))
    .filter(({ levels }) => levels.length > 1);
  const names = varied.map(({ name }) => name);
  return {
    cells,
    factors: varied,
    mains: names.map((name) => [name]),
    pairs: names.flatMap((one, at) => names.slice(at + 1).map((other) => [one, other])),
  };
}

/** Main effects and all interactions of two factors. */
export function allTerms({ mains, pairs }: Geometry): readonly Term[] {
  return [...mains, ...pairs];
}

export function columnsOf(terms: readonly Term[], geometry: Geometry): readonly Column[] {
  const runs: readonly FactorRun[] = geometry.cells.map((levels) => ({ levels, value: 0 }));
  return terms.flatMap((term) => termColumns(term, geometry.factors, runs));
}

export function meanColumn({ cells }: Geometry): Column {
  return { name: '(mean)', values: cells.map(() => 1) };
}

/** Whether these rigs tell `term` from the mean and the other terms, each of its parts. False also for factors that do not vary. */
export function isSeparable(term: Term, others: readonly Term[], geometry: Geometry): boolean {
  if (!isVaried(term, geometry)) return false;
  const own = columnsOf([term], geometry);
  const rest = [
    meanColumn(geometry),
    ...columnsOf(
      others.filter((other) => !isSameTerm(other, term)),
      geometry,
    ),
  ];
  return designRank([...rest, ...own]) === designRank(rest) + own.length;
}

export function isVaried(term: Term, { factors }: Geometry): boolean {
  return term.every((name) => factors.some((factor) => factor.name === name));
}

export function isSameTerm(one: Term, other: Term): boolean {
  return one.length === other.length && one.every((name) => other.includes(name));
}

export function isSameCell(one: Cell, other: Cell): boolean {
  return Object.entries(one).every(([factor, level]) => other[factor] === level);
}

/** Number of factors in which two cells differ. */
export function changesBetween(one: Cell, other: Cell): number {
  return Object.keys(one).filter((factor) => one[factor] !== other[factor]).length;
}
