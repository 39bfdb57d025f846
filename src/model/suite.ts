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
  readonly temperatureLimit: TemperatureLimit;
  readonly retry: Retry;
  /** A workload is left out of the rest after this many failed runs in a row. */
  readonly parkAfter: number;
  /** Names of preflight checks whose warnings refuse this suite; each is explained in README.md. */
  readonly requires: readonly string[];
  /** A fraction: 0.02 stands for 2 %. */
  readonly differenceThatMatters: number;
  readonly workloads: readonly [Workload, ...Workload[]];
  /** Name as in `argv` to what is known about the program. */
  readonly programs: Readonly<Record<string, ProgramRule>>;
  /** Name of the profile in force, such as a shortened form; null for the suite as written. */
  readonly profile: string | null;
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

export type Cooldown =
  | { readonly kind: 'fixed'; readonly seconds: number }
  | {
      readonly kind: 'load';
      /** Busy share of all CPUs together, 0 to 1. */
      readonly below: number;
      readonly atLeastSeconds: number;
      readonly atMostSeconds: number;
    }
  | {
      readonly kind: 'temperature';
      /** Of the processor: below a figure, or within some kelvin of the idle temperature learnt at the start. */
      readonly until:
        | { readonly kind: 'below'; readonly celsius: number }
        | { readonly kind: 'near-idle'; readonly withinKelvin: number };
      readonly atLeastSeconds: number;
      readonly atMostSeconds: number;
      /** Waited instead where no sensor tells. */
      readonly withoutSensorSeconds: number;
    };

/** A run is ended at `celsius`, or this far below what the sensor calls critical, whichever is lower. */
export interface TemperatureLimit {
  /** Null: only the sensor's critical value counts. */
  readonly celsius: number | null;
  readonly marginKelvin: number;
}

/** Further attempts at a planned run, each recorded beside the earlier ones. */
export interface Retry {
  /** After a failure that was not asked for. */
  readonly failed: number;
  /** After a good run beside which something else went on. */
  readonly disturbed: number;
}

/** How to learn about a program that workloads name, and how to get it. */
export interface ProgramRule {
  /** How it tells its version: the first group of the first match in what it prints. Null: it does not tell. */
  readonly version: {
    readonly argv: readonly [string, ...string[]];
    readonly pattern: string;
  } | null;
  /** Debian package that has it; null where none is known. */
  readonly debian: string | null;
  /** A sentence for people on other systems; null where there is none. */
  readonly elsewhere: string | null;
  /** Least version, numbers separated by dots; null for any. */
  readonly atLeast: string | null;
}

export interface Limits {
  readonly timeSeconds: number;
  /** Of standard output and standard error together. */
  readonly outputBytes: number;
}

export interface Workload {
  readonly id: string;
  readonly title: string;
  readonly program: WorkloadProgram;
  /** Name in the suite to what the program reads; prepared before the clock starts, read-only for the program. */
  readonly inputs: Readonly<Record<string, Input>>;
  /** State of the page cache for the inputs when a run starts; null leaves it as it is. */
  readonly pageCache: 'warm' | 'cold' | null;
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
  | { readonly kind: 'shipped'; readonly name: ShippedName; readonly parameters: Parameters }
  | ScriptedProgram
  /** The operator starts it and types in what it shows. */
  | { readonly kind: 'by-hand'; readonly instruction: string }
  /** Figures gathered elsewhere, imported; never run. */
  | { readonly kind: 'imported' };

/**
 * Named steps in one scratch folder, each metered on its own. A step that fails fails the run; `tearDown` is done in any
 * case. Only `steps` are timed; a failing `check` means a wrong result.
 */
export interface ScriptedProgram {
  readonly kind: 'scripted';
  readonly setUp: readonly Step[];
  readonly steps: readonly [Step, ...Step[]];
  readonly check: readonly Step[];
  readonly tearDown: readonly Step[];
}

export interface Step {
  /** Unique within the workload. */
  readonly id: string;
  /** With the placeholders of commands. */
  readonly argv: readonly [string, ...string[]];
  /** File of the scratch folder, or a placeholder, that becomes standard input; null for none. */
  readonly stdin: string | null;
  /** File of the scratch folder that gets standard output; null keeps it as a log. */
  readonly stdout: string | null;
  /** Of this step; null: the workload's limit. The whole workload's limit holds for each step by itself. */
  readonly timeSeconds: number | null;
}

/** Parameters of a shipped workload, defaults filled in; `threads: 'all'` is resolved when the run starts. */
export type Parameters = Readonly<Record<string, number | string>>;

export type Input = InputFile | GeneratedInput | ArchiveInput;

export interface InputFile {
  readonly kind: 'file';
  /** As written: relative to the suite's folder and within it, or absolute: a file of the user's own. */
  readonly path: string;
  /** Hex; null where the suite does not state it. */
  readonly sha256: string | null;
}

/** Made by us, the same bytes on every machine; cached outside the results. */
export interface GeneratedInput {
  readonly kind: 'generated';
  readonly content: GeneratedContent;
  readonly sizeBytes: number;
  readonly seed: number;
  readonly sha256: string | null;
}

/** `video`: raw YUV4MPEG2 frames; `c-source`: one C translation unit; `table`: CSV rows with a heading. */
export const generatedContents = ['text', 'binary', 'mixed', 'video', 'c-source', 'table'] as const;
export type GeneratedContent = (typeof generatedContents)[number];

/** An archive (tar, tar.gz, zip) unpacked into a folder before the sitting. */
export interface ArchiveInput {
  readonly kind: 'archive';
  readonly path: string;
  readonly sha256: string | null;
}

export interface Expectation {
  readonly exitCode: number;
  /** Null where the suite states no checksum. */
  readonly output: { readonly of: OutputPlace; readonly sha256: string } | null;
}

/** The program's standard streams, or a file it leaves in its scratch folder. */
export type OutputPlace =
  /** `step`: whose stream, in a scripted workload; null in others. */
  | { readonly kind: 'stdout'; readonly step: string | null }
  | { readonly kind: 'stderr'; readonly step: string | null }
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
  /** `step`: of that step alone; null: of the run, in a scripted workload the sum (peak memory: the largest) of its timed steps. */
  | {
      readonly kind: 'accounting';
      readonly reading: AccountingReading;
      readonly step: string | null;
    }
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
  /** Work divided by the metric `per` of the same workload: a time gives a rate, a size of the same unit a ratio. */
  | { readonly kind: 'derived'; readonly work: number; readonly per: string }
  /** Bytes of a file that the program left in the scratch folder. */
  | { readonly kind: 'file-size'; readonly path: string }
  /** A column of per-frame times in a CSV that the program left. */
  | FrameSource
  /** Typed in by the operator, who is asked again outside this range. In the metric's base unit; null: no bound. */
  | {
      readonly kind: 'operator';
      readonly factor: number;
      readonly symbol: string;
      readonly least: number | null;
      readonly most: number | null;
    }
  | { readonly kind: 'imported' };

export interface FrameSource {
  readonly kind: 'frames';
  readonly in: OutputPlace;
  /** Name in the heading line. */
  readonly column: string;
  readonly delimiter: ',' | ';' | '\t';
  /** Seconds in one unit of the column: 0.001 for milliseconds. */
  readonly factor: number;
  readonly figure: FrameFigure;
}

/** Each is defined in README.md; a test checks that. */
export const frameFigures = [
  'average-rate',
  'rate-at-slowest-1-percent',
  'rate-at-slowest-0.1-percent',
  'rate-over-slowest-1-percent',
  'rate-over-slowest-0.1-percent',
  'median-time',
  'time-at-95-percent',
  'time-at-99-percent',
  'long-frames',
  'time-in-long-frames',
  'time-beyond-16.7-ms',
  'time-beyond-33.3-ms',
] as const;
export type FrameFigure = (typeof frameFigures)[number];
