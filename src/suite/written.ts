import type { ShippedName } from '../model/shipped.ts';
import type { AccountingReading, RunOrder } from '../model/suite.ts';
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
  readonly cooldown: string | WrittenLoadCooldown;
  readonly limits: { readonly time: string; readonly output: string };
  readonly 'difference-that-matters': string;
  readonly workloads: readonly unknown[];
}

export interface WrittenAdaptive {
  readonly 'at-least': number;
  readonly 'at-most': number;
  readonly 'until-half-width': string;
}

export interface WrittenLoadCooldown {
  readonly 'until-load-below': string;
  readonly 'at-least': string;
  readonly 'at-most': string;
}

export type WrittenWorkload = WrittenCommand | WrittenShipped;

interface WrittenCommon {
  readonly id: string;
  readonly title?: string | undefined;
  readonly environment?: Readonly<Record<string, string>> | undefined;
  readonly affinity?: number | string | readonly number[] | undefined;
  readonly priority?: number | undefined;
  readonly limits?: WrittenOwnLimits | undefined;
  readonly metrics?: Readonly<Record<string, WrittenMetric>> | undefined;
}

interface WrittenOwnLimits {
  readonly time?: string | undefined;
  readonly output?: string | undefined;
}

export interface WrittenCommand extends WrittenCommon {
  readonly kind: 'command';
  readonly argv: readonly string[];
  readonly inputs?: Readonly<Record<string, WrittenInput>> | undefined;
  readonly expect?: WrittenExpectation | undefined;
}

export interface WrittenShipped extends WrittenCommon {
  readonly kind: 'shipped';
  readonly shipped: ShippedName;
  readonly parameters?: WrittenParameters | undefined;
}

export type WrittenParameters = Readonly<Record<string, number | string | undefined>>;

export interface WrittenInput {
  readonly path: string;
  readonly sha256?: string | undefined;
}

export interface WrittenExpectation {
  readonly 'exit-code': number;
  readonly output?: { readonly of: WrittenPlace; readonly sha256: string } | undefined;
}

export type WrittenPlace = 'stdout' | 'stderr' | { readonly file: string };

export type WrittenMetric =
  | { readonly from: 'accounting'; readonly reading: AccountingReading }
  | { readonly from: 'derived'; readonly work: string; readonly per: string }
  | ({ readonly from: 'pattern'; readonly pattern: string } & WrittenFound)
  | ({ readonly from: 'json'; readonly pointer: string } & WrittenFound);

interface WrittenFound {
  readonly in: WrittenPlace;
  readonly unit: string;
  readonly better: Direction;
}
