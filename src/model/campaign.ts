import type { UnitCode } from './unit.ts';

/**
 * A campaign after validation and defaults: which rigs are built from which parts, what is run on them how often, and the
 * questions to be answered. Where it stands is derived from result folders alone.
 */
export interface Campaign {
  readonly id: string;
  readonly title: string;
  /** In the tester's words. */
  readonly question: string;
  /** As written: a shipped suite's name, or a file beside the campaign. */
  readonly suite: string;
  readonly profile: string | null;
  /** Label of a rig below. */
  readonly baseline: string;
  readonly factors: readonly Factor[];
  readonly rigs: readonly [CampaignRig, ...CampaignRig[]];
  readonly parts: readonly Part[];
  /** Of each rig. */
  readonly sittings: number;
  /** How often each rig is built anew; its sittings are spread over them. */
  readonly assemblies: number;
  /** The baseline is measured again at the end. */
  readonly returnToBaseline: boolean;
  /** A fraction. */
  readonly differenceThatMatters: number;
  /** What building one rig into the next is taken to last. */
  readonly swapSeconds: number;
  /** Decides the order of the rigs between the baselines; 32-bit unsigned. */
  readonly seed: number;
  /** What the operator is asked before each sitting. */
  readonly conditions: readonly Condition[];
  readonly questions: readonly Question[];
  readonly money: Money;
  /** Invented data: every screen and file made of it says so. */
  readonly invented: boolean;
}

export interface Factor {
  readonly id: string;
  readonly title: string;
  readonly levels: readonly [string, ...string[]];
}

export interface CampaignRig {
  /** A rig label: lower-case letters, digits, hyphens. */
  readonly label: string;
  readonly title: string;
  /** A level for each factor. */
  readonly levels: Readonly<Record<string, string>>;
  /** Ids of parts; one may stand more than once. */
  readonly parts: readonly string[];
  readonly expect: readonly Expected[];
}

/** What the inventory of a rig should say. */
export interface Expected {
  /** Such as `memory.total`. */
  readonly path: string;
  /** As written; numbers with their unit are compared in base units. */
  readonly text: string;
  readonly number: { readonly value: number; readonly unit: UnitCode } | null;
}

export interface Part {
  readonly id: string;
  /** Such as `board`, `processor`, `memory`, `cooler`, `case`, `power supply`. */
  readonly role: string;
  readonly name: string;
  readonly price: Price | null;
  /** Counts in the machine's value, not in what is still to be paid. */
  readonly owned: boolean;
  /** `nothing`: may be replaced on paper by another part of its role that affects nothing. */
  readonly affects: 'performance' | 'nothing';
  /** Ids of parts that may stand for it on paper. */
  readonly alternatives: readonly string[];
}

export interface Price {
  /** Decimal text, exact: `129.90`. */
  readonly amount: string;
  /** ISO 4217. */
  readonly currency: string;
  /** RFC 3339 full-date. */
  readonly date: string;
  readonly source: string;
}

/** What of the rig software cannot see. */
export interface Condition {
  readonly id: string;
  readonly prompt: string;
  readonly kind: 'temperature' | 'text';
}

export type Question =
  /** Is a rig another than the baseline? */
  | { readonly kind: 'rig'; readonly rig: string }
  /** What does a factor do, over the levels of the others? */
  | { readonly kind: 'effect'; readonly factor: string }
  /** Does one factor's effect depend on another? */
  | { readonly kind: 'interaction'; readonly factors: readonly [string, string] };

export interface Money {
  /** All totals are shown in it as well where rates allow; null: each currency apart. */
  readonly reportIn: string | null;
  readonly rates: readonly Rate[];
  /** Of a kilowatt hour; null where running costs are not wanted. */
  readonly energyPrice: Price | null;
  /** A year. */
  readonly hoursOfUse: number | null;
}

export interface Rate {
  readonly from: string;
  readonly to: string;
  /** Decimal text, exact: one `from` is that many `to`. */
  readonly rate: string;
  readonly date: string;
  readonly source: string;
}
