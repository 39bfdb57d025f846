import type { ShippedName } from './shipped.ts';
import type { Direction, UnitCode } from './unit.ts';

/** A suite after validation and defaults: what is run, how often, with which cooldown and limits. */
export interface Suite {
  readonly id: string;
  readonly title: string;
  readonly description: string | null;
  readonly revision: number;
  readonly repeats: Repeats;
  /** Unmeasured rounds before the first measured one. */
  readonly warmUps: number;
  readonly order: RunOrder;
  /** 32-bit unsigned integer. */
  readonly seed: number;
  readonly cooldown: Cooldown;
  readonly limits: Limits;
  /** A fraction: 0.02 stands for 2 %. */
  readonly differenceThatMatters: number;
  readonly workloads: readonly [Workload, ...Workload[]];
  /**
   * SHA-256 (hex) over everything above that changes what is measured; titles, descriptions, comments, layout,
   * the seed and the difference that matters do not enter. Sittings compare only when it is equal.
   */
  readonly digest: string;
}

export type RunOrder = 'shuffled' | 'as-written';

export type Repeats =
  | { readonly kind: 'fixed'; readonly count: number }
  | {
      readonly kind: 'adaptive';
      readonly atLeast: number;
      readonly atMost: number;
      /** Stop once the 95 % half-width of the mean, relative to the mean, is below this fraction. */
      readonly untilHalfWidthBelow: number;
    };

/** A later kind waits on a temperature; readers must take an unknown kind as an error, not as a fixed time. */
export type Cooldown =
  | { readonly kind: 'fixed'; readonly seconds: number }
  | {
      readonly kind: 'load';
      /** Busy share of all CPUs together, 0 to 1. */
      readonly below: number;
      readonly atLeastSeconds: number;
      readonly atMostSeconds: number;
    };

export interface Limits {
  readonly timeSeconds: number;
  /** Of standard output and standard error together. */
  readonly outputBytes: number;
}

export interface Workload {
  readonly id: string;
  readonly title: string;
  readonly program: WorkloadProgram;
  /** Name in the suite to file; read-only for the program. */
  readonly inputs: Readonly<Record<string, InputFile>>;
  /** Added to the small fixed environment. */
  readonly environment: Readonly<Record<string, string>>;
  /** CPU numbers; null leaves the choice to the kernel. */
  readonly affinity: readonly number[] | null;
  /** Nice value, -20 to 19; null leaves it as it is. */
  readonly priority: number | null;
  readonly limits: Limits;
  readonly expect: Expectation;
  /** The first one is what adaptive repeats and one-line figures go by. */
  readonly metrics: readonly [Metric, ...Metric[]];
}

export type WorkloadProgram =
  /** Arguments may hold `{input:NAME}`, `{scratch}` and `{cpus}`. */
  | { readonly kind: 'command'; readonly argv: readonly [string, ...string[]] }
  | { readonly kind: 'shipped'; readonly name: ShippedName; readonly parameters: Parameters };

/** Parameters of a shipped workload, defaults filled in; `threads: 'all'` is resolved when the run starts. */
export type Parameters = Readonly<Record<string, number | string>>;

export interface InputFile {
  /** As written, relative to the suite's folder. */
  readonly path: string;
  /** Hex; null where the suite does not state it. */
  readonly sha256: string | null;
}

export interface Expectation {
  readonly exitCode: number;
  /** Null where the suite states no checksum. */
  readonly output: { readonly of: OutputPlace; readonly sha256: string } | null;
}

/** The program's standard streams, or a file it leaves in its scratch folder. */
export type OutputPlace =
  | { readonly kind: 'stdout' }
  | { readonly kind: 'stderr' }
  | { readonly kind: 'file'; readonly path: string };

export interface Metric {
  readonly id: string;
  readonly source: MetricSource;
  /** UCUM code of the stored value. */
  readonly unit: UnitCode;
  readonly better: Direction;
}

export type AccountingReading = 'wall' | 'user' | 'system' | 'cpu' | 'peak-memory';

export type MetricSource =
  | { readonly kind: 'accounting'; readonly reading: AccountingReading }
  /** First capturing group of the last match; the number found is multiplied by `factor`. */
  | {
      readonly kind: 'pattern';
      readonly pattern: string;
      readonly in: OutputPlace;
      readonly factor: number;
    }
  /** RFC 6901 pointer into a JSON file, or into the last line of a stream that parses as JSON. */
  | {
      readonly kind: 'json';
      readonly pointer: string;
      readonly in: OutputPlace;
      readonly factor: number;
    }
  /** Work divided by the time metric `per` of the same workload. */
  | { readonly kind: 'derived'; readonly work: number; readonly per: string };
