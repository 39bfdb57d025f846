import type { Direction, UnitCode } from './unit.ts';

/** Programs shipped with the tool: the contract between suites, which name them, and `workloads/`, which holds them. */
export const shippedNames = [
  'deflate',
  'brotli',
  'path-trace',
  'hash',
  'encrypt',
  'memory-copy',
  'memory-latency',
  'json-sort',
] as const;
export type ShippedName = (typeof shippedNames)[number];

export interface ShippedWorkload {
  readonly name: ShippedName;
  readonly title: string;
  readonly summary: string;
  readonly parameters: Readonly<Record<string, ParameterRule>>;
  /** Taken from the JSON line the program prints last; used where the suite states no metrics. */
  readonly metrics: readonly [ShippedMetric, ...ShippedMetric[]];
}

export type ShippedCatalog = Readonly<Record<ShippedName, ShippedWorkload>>;

export interface ShippedMetric {
  readonly id: string;
  /** RFC 6901 pointer into the last JSON line; values there are in base units already. */
  readonly pointer: string;
  readonly unit: UnitCode;
  readonly better: Direction;
}

export type ParameterRule =
  | {
      readonly kind: 'integer';
      readonly default: number;
      readonly min: number;
      readonly max: number;
      readonly meaning: string;
    }
  /** Written with a unit (`64 MiB`), passed on in bytes. */
  | {
      readonly kind: 'size';
      readonly default: number;
      readonly min: number;
      readonly max: number;
      readonly meaning: string;
    }
  | {
      readonly kind: 'choice';
      readonly default: string;
      readonly choices: readonly string[];
      readonly meaning: string;
    }
  /** A number of threads, or `all`: as many as CPUs may be used. */
  | {
      readonly kind: 'threads';
      readonly default: number | 'all';
      readonly max: number;
      readonly meaning: string;
    };
