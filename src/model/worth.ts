import type { Part, Rate } from './campaign.ts';
import type { UnitCode } from './unit.ts';

export const worthSchema = 'steadyrig/worth/1';

/** What the rigs of a campaign cost and what they give for it: totals, performance per money, energy, and who beats whom. */
export interface Worth {
  readonly schema: typeof worthSchema;
  /** Id. */
  readonly campaign: string;
  readonly title: string;
  readonly question: string;
  /** Any price or figure is made up. */
  readonly invented: boolean;
  readonly baseline: string;
  /** Of the intervals: 0.95. */
  readonly confidence: number;
  /** In the order of the campaign. */
  readonly rigs: readonly RigWorth[];
  /** By the machines' value as measured, and with the cheapest parts on paper. */
  readonly frontier: readonly FrontierRow[];
  /** What the totals were made of; alternatives too. */
  readonly parts: readonly PricedPart[];
  /** Between currencies, of the campaign. */
  readonly rates: readonly Rate[];
  /** What was left out and why, for people. */
  readonly notes: readonly string[];
}

export interface PricedPart extends Pick<Part, 'role' | 'name' | 'price' | 'owned'> {
  /** Id. */
  readonly part: string;
  /** Labels of the rigs that hold it, one for each piece; none for an alternative on paper. */
  readonly rigs: readonly string[];
  /** It may be replaced on paper. */
  readonly affectsNothing: boolean;
}

/** Rounded once, to the minor unit of ISO 4217: `129.90`. */
export interface Amount {
  readonly amount: string;
  readonly currency: string;
}

export interface Total {
  /** Each currency apart, by code. */
  readonly currencies: readonly Amount[];
  /** All of it in one currency; null where a rate is missing or currencies differ and none is asked for. */
  readonly together: Amount | null;
  /** Ids of parts without a price: the total is at least this. */
  readonly missing: readonly string[];
}

export interface Build {
  /** `cheapest`, `least-to-pay`: of all that may be replaced on paper. Only `as-measured` was measured. */
  readonly kind: 'as-measured' | 'alternative' | 'cheapest' | 'least-to-pay';
  readonly replaced: readonly {
    readonly part: string;
    readonly by: string;
    /** How many of it the rig has. */
    readonly pieces: number;
  }[];
  /** Of all parts. */
  readonly value: Total;
  /** Of those not owned. */
  readonly toPay: Total;
}

export interface WithInterval {
  readonly value: number;
  /** Null where there is none. */
  readonly low: number | null;
  readonly high: number | null;
}

export interface RigWorth {
  readonly label: string;
  readonly title: string;
  readonly sittings: number;
  /** Of the campaign. */
  readonly wanted: number;
  /** The overall index: ratio to the baseline, above 1 is better. Exactly 1 for the baseline; null where not compared. */
  readonly index: WithInterval | null;
  /** Something forbids to say that the rigs differ: see `notes`. */
  readonly isVoid: boolean;
  /** The first is as measured. */
  readonly builds: readonly [Build, ...Build[]];
  /** Index for the money of the machine's value, the baseline as measured being 1. */
  readonly perMoney: {
    readonly asMeasured: WithInterval | null;
    readonly cheapest: WithInterval | null;
  };
  /** Against the baseline by value, as measured; null for the baseline. */
  readonly gain: Gain | null;
  /** The same by what is still to be paid; null where nothing is owned. */
  readonly gainToPay: Gain | null;
  readonly energy: RigEnergy | null;
}

export interface Gain {
  readonly performance: 'better' | 'worse' | 'not-shown';
  readonly price: 'dearer' | 'cheaper' | 'same';
  /** Less the baseline's; below zero for cheaper. */
  readonly difference: Amount;
  /** What a percent gained costs, or a percent given up saves. `high` null: unbounded. Null where it makes no sense. */
  readonly percent: {
    readonly value: Amount | null;
    readonly low: Amount;
    readonly high: Amount | null;
  } | null;
}

export interface RigEnergy {
  readonly tasks: readonly TaskEnergy[];
  /** Mean of the workloads that every rig with energy measured; null where there is none. */
  readonly meanPower:
    | (WithInterval & { readonly unit: UnitCode; readonly workloads: number })
    | null;
  /** A year; null where the campaign names no price or hours. */
  readonly running: {
    readonly kilowattHours: number;
    readonly cost: Amount;
    readonly low: Amount | null;
    readonly high: Amount | null;
  } | null;
}

export interface TaskEnergy extends WithInterval {
  readonly workload: string;
  /** J. */
  readonly unit: UnitCode;
  readonly sittings: number;
}

export interface FrontierRow {
  readonly by: 'as-measured' | 'cheapest';
  readonly rig: string;
  /** `open`: another costs no more, and nothing shows which of them is faster. `not-told`: no price or no index. */
  readonly state: 'unbeaten' | 'open' | 'beaten' | 'not-told';
  /** Rigs that cost no more and are surely faster, or, when open, might be. */
  readonly others: readonly string[];
}
