import type { CheckName } from '../model/finding.ts';
import type { ShippedName } from '../model/shipped.ts';
import type {
  AccountingReading,
  FrameFigure,
  GeneratedContent,
  RunOrder,
  Workload,
} from '../model/suite.ts';
import type { Direction } from '../model/unit.ts';

/** A suite file as typed by a person: keys in kebab-case, amounts as text with their unit, defaults filled in. */
export interface WrittenSuite extends WrittenEnvelope {
  readonly workloads: readonly WrittenWorkload[];
}

/** All but the workloads, which are checked one by one. */
export interface WrittenEnvelope {
  readonly suite: string;
  readonly title: string;
  readonly description?: string | undefined;
  readonly revision: number;
  readonly repeats: number | WrittenAdaptive;
  readonly 'warm-ups': number;
  readonly order: RunOrder;
  readonly seed: number;
  readonly cooldown: WrittenCooldown;
  readonly limits: { readonly time: string; readonly output: string };
  readonly 'temperature-limit': string | WrittenTemperatureLimit;
  readonly retry: { readonly failed: number; readonly disturbed: number };
  readonly 'park-after': number;
  readonly requires: readonly CheckName[];
  readonly 'difference-that-matters': string;
  readonly programs: Readonly<Record<string, WrittenProgram>>;
  readonly amounts: WrittenAmounts;
  readonly profiles: Readonly<Record<string, WrittenProfile>>;
  readonly workloads: readonly unknown[];
}

export interface WrittenAdaptive {
  readonly 'at-least': number;
  readonly 'at-most': number;
  readonly 'until-half-width': string;
}

export type WrittenCooldown =
  | string
  | WrittenLoadCooldown
  | WrittenTemperatureCooldown
  | WrittenIdleCooldown;

interface WrittenLoadCooldown {
  readonly 'until-load-below': string;
  readonly 'at-least': string;
  readonly 'at-most': string;
}

interface WrittenTemperatureCooldown extends WrittenCooling {
  readonly 'until-temperature-below': string;
}

interface WrittenIdleCooldown extends WrittenCooling {
  readonly 'within-of-idle': string;
}

interface WrittenCooling {
  readonly 'at-least': string;
  readonly 'at-most': string;
  readonly 'without-sensor': string;
}

interface WrittenTemperatureLimit {
  readonly at?: string | undefined;
  readonly margin: string;
}

export interface WrittenProgram {
  readonly version?: { readonly argv: readonly string[]; readonly pattern: string } | undefined;
  readonly debian?: string | undefined;
  readonly elsewhere?: string | undefined;
  readonly 'at-least'?: string | undefined;
}

/** `64 MiB`, `1200 frames`, or a plain whole number. */
export type WrittenAmounts = Readonly<Record<string, number | string>>;

/** Another form of the suite: what it states takes the place of what the suite states. */
export interface WrittenProfile {
  readonly title?: string | undefined;
  readonly amounts?: WrittenAmounts | undefined;
  readonly repeats?: WrittenEnvelope['repeats'] | undefined;
  readonly 'warm-ups'?: number | undefined;
  readonly order?: RunOrder | undefined;
  readonly cooldown?: WrittenEnvelope['cooldown'] | undefined;
  readonly limits?: WrittenOwnLimits | undefined;
}

/** With amounts in place of their placeholders. */
export type WrittenWorkload = WrittenCommand | WrittenShipped | WrittenScripted | WrittenByHand;

interface WrittenCommon {
  readonly id: string;
  readonly title?: string | undefined;
  readonly metrics?: WrittenMetrics | undefined;
}

interface WrittenMeasured extends WrittenCommon {
  readonly environment?: Readonly<Record<string, string>> | undefined;
  readonly affinity?: number | string | readonly number[] | undefined;
  readonly priority?: number | undefined;
  readonly limits?: WrittenOwnLimits | undefined;
}

interface WrittenWithInputs extends WrittenMeasured {
  readonly inputs?: Readonly<Record<string, WrittenInput>> | undefined;
  readonly 'page-cache'?: NonNullable<Workload['pageCache']> | undefined;
}

export interface WrittenOwnLimits {
  readonly time?: string | undefined;
  readonly output?: string | undefined;
}

export interface WrittenCommand extends WrittenWithInputs {
  readonly kind: 'command';
  readonly argv: readonly string[];
  readonly expect?: WrittenExpectation | undefined;
}

export interface WrittenShipped extends WrittenMeasured {
  readonly kind: 'shipped';
  readonly shipped: ShippedName;
  readonly parameters?: WrittenParameters | undefined;
}

export interface WrittenScripted extends WrittenWithInputs {
  readonly kind: 'scripted';
  readonly 'set-up': readonly WrittenStep[];
  readonly steps: readonly WrittenStep[];
  readonly check: readonly WrittenStep[];
  readonly 'tear-down': readonly WrittenStep[];
}

export interface WrittenStep {
  readonly id: string;
  readonly argv: readonly string[];
  readonly stdin?: string | undefined;
  readonly stdout?: string | undefined;
  readonly time?: string | undefined;
}

export interface WrittenByHand extends WrittenCommon {
  readonly kind: 'by-hand';
  readonly instruction: string;
  readonly metrics: WrittenMetrics;
}

export type WrittenParameters = Readonly<Record<string, number | string | undefined>>;

export type WrittenInput = WrittenInputFile | WrittenGenerated | WrittenArchive;

export interface WrittenInputFile {
  readonly path: string;
  readonly sha256?: string | undefined;
}

export interface WrittenGenerated {
  readonly generate: GeneratedContent;
  readonly size: string;
  readonly seed: number;
  readonly sha256?: string | undefined;
}

export interface WrittenArchive {
  readonly archive: string;
  readonly sha256?: string | undefined;
}

export interface WrittenExpectation {
  readonly 'exit-code': number;
  readonly output?: { readonly of: WrittenPlace; readonly sha256: string } | undefined;
}

export type WrittenPlace = 'stdout' | 'stderr' | { readonly file: string };

export type WrittenMetrics = Readonly<Record<string, WrittenMetric>>;

export type WrittenMetric =
  | ({ readonly from: 'accounting'; readonly reading: AccountingReading } & OfStep)
  | { readonly from: 'derived'; readonly work: string; readonly per: string }
  | ({ readonly from: 'pattern'; readonly pattern: string } & WrittenFound)
  | ({ readonly from: 'json'; readonly pointer: string } & WrittenFound)
  | { readonly from: 'file-size'; readonly file: string }
  | WrittenFrames
  | WrittenOperator;

/** In scripted workloads: the step whose accounting or stream is meant. */
interface OfStep {
  readonly step?: string | undefined;
}

interface WrittenFound extends OfStep {
  readonly in: WrittenPlace;
  readonly unit: string;
  readonly better: Direction;
}

export interface WrittenFrames extends OfStep {
  readonly from: 'frames';
  readonly in: WrittenPlace;
  readonly column: string;
  readonly unit: 'ns' | 'us' | 'ms' | 's';
  readonly delimiter: ',' | ';' | 'tab' | '\t';
  readonly figure: FrameFigure;
}

export interface WrittenOperator {
  readonly from: 'operator';
  readonly unit: string;
  readonly better: Direction;
  readonly least?: number | undefined;
  readonly most?: number | undefined;
}
