import type { EntryRecord } from './run.ts';
import type { Direction, UnitCode } from './unit.ts';

/** One figure in the long form in which figures are exchanged: a row for each metric of each good measured repeat. */
export interface FigureRow {
  readonly rig: string;
  readonly sitting: string;
  readonly workload: string;
  /** From 1. */
  readonly repeat: number;
  readonly metric: string;
  readonly value: number;
  readonly unit: UnitCode;
  readonly better: Direction;
  readonly suite: string;
  readonly profile: string | null;
  /** Of the suite: figures compare only when it is equal. */
  readonly digest: string;
  /** `factor=level`, separated by `; `. */
  readonly levels: string | null;
  /** RFC 3339, UTC. */
  readonly started_at: string;
  /** How it was entered; null for a measured figure. */
  readonly entry: EntryRecord['by'] | null;
  readonly bound: 'below' | null;
  /** Whether the operator excluded its run from comparisons. */
  readonly excluded: 'yes' | null;
  /** From 1; above 1 the repeat was tried again, and this attempt counts. */
  readonly attempt: number;
}

export type NeededFigureColumn =
  | 'rig'
  | 'sitting'
  | 'workload'
  | 'repeat'
  | 'metric'
  | 'value'
  | 'unit'
  | 'better';

/** What an import needs, in the order of an export; README.md explains each. */
export const neededFigureColumns: readonly NeededFigureColumn[] = [
  'rig',
  'sitting',
  'workload',
  'repeat',
  'metric',
  'value',
  'unit',
  'better',
];

export type KnownFigureColumn = NeededFigureColumn | 'suite' | 'bound';

/** What an import takes something from. */
export const knownFigureColumns: readonly KnownFigureColumn[] = [
  ...neededFigureColumns,
  'suite',
  'bound',
];

/** All columns of an export, in their order. */
export const figureColumns: readonly (keyof FigureRow)[] = [
  ...neededFigureColumns,
  'suite',
  'profile',
  'digest',
  'levels',
  'started_at',
  'entry',
  'bound',
  'attempt',
  'excluded',
];
