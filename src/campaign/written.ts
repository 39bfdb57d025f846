import type { Condition, Part } from '../model/campaign.ts';

/** A campaign file as typed by a person: keys in kebab-case, amounts as text with their unit, defaults filled in. */
export interface WrittenCampaign {
  readonly campaign: string;
  readonly title: string;
  readonly question: string;
  readonly invented: boolean;
  readonly suite: string;
  readonly profile?: string | undefined;
  readonly baseline: string;
  readonly sittings: number;
  readonly assemblies: number;
  readonly 'return-to-baseline': boolean;
  readonly 'difference-that-matters'?: string | undefined;
  readonly 'swap-time': string;
  readonly seed: number;
  readonly factors: Readonly<Record<string, WrittenFactor>>;
  readonly parts: Readonly<Record<string, WrittenPart>>;
  readonly rigs: Readonly<Record<string, WrittenRig>>;
  readonly conditions: Readonly<Record<string, WrittenCondition>>;
  readonly questions?: readonly WrittenQuestion[] | undefined;
  readonly money: WrittenMoney;
}

export interface WrittenFactor {
  readonly title: string;
  readonly levels: readonly string[];
}

export interface WrittenPart {
  readonly role: string;
  readonly name: string;
  readonly price?: WrittenPrice | undefined;
  readonly owned: boolean;
  readonly affects: Part['affects'];
  readonly alternatives: readonly string[];
}

export interface WrittenPrice {
  readonly amount: string;
  readonly currency: string;
  readonly date: string;
  readonly source: string;
}

export interface WrittenRig {
  readonly title?: string | undefined;
  readonly levels: Readonly<Record<string, string>>;
  readonly parts: readonly string[];
  readonly expect: Readonly<Record<string, string>>;
}

export interface WrittenCondition {
  readonly prompt: string;
  readonly kind: Condition['kind'];
}

export type WrittenQuestion =
  | { readonly rig: string }
  | { readonly effect: string }
  | { readonly interaction: readonly string[] };

export interface WrittenMoney {
  readonly 'report-in'?: string | undefined;
  readonly rates: readonly WrittenRate[];
  readonly 'energy-price'?: WrittenPrice | undefined;
  readonly 'hours-of-use'?: number | undefined;
}

export interface WrittenRate {
  readonly from: string;
  readonly to: string;
  readonly rate: string;
  readonly date: string;
  readonly source: string;
}
