import type { Direction, UnitCode } from '../../model/unit.ts';

/** A figure of an imported file, checked by itself; the value is in the base unit. */
export interface GivenFigure {
  readonly rig: string;
  readonly sitting: string;
  readonly suite: string;
  readonly workload: string;
  readonly repeat: number;
  readonly metric: string;
  readonly value: number;
  readonly unit: UnitCode;
  readonly better: Direction;
  readonly bound: 'below' | null;
  /** Where its columns begin in the file. */
  readonly places: Readonly<Record<'metric' | 'unit' | 'better' | 'suite', Place>>;
}

/** 1-based; columns in UTF-16 units. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

/** Something wrong at a place of the file. */
export interface Fault extends Place {
  readonly message: string;
}
