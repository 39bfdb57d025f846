import type { Part } from './campaign.ts';
import type { Inventory } from './inventory.ts';
import type { AcceptedChange, RigChange, SittingState } from './sitting.ts';

/** What a campaign needs to know of a sitting, taken from its folder. */
export interface CampaignSitting {
  readonly id: string;
  readonly rig: string;
  /** Of its suite. */
  readonly digest: string;
  readonly assembly: number | null;
  readonly state: SittingState;
  /** RFC 3339, UTC. */
  readonly startedAt: string;
  /** It repeats a single workload of an earlier sitting. */
  readonly isAgain: boolean;
  /** Of the runs that count. */
  readonly failedRuns: number;
  /** Bytes of an unfinished line at the end of its journal. */
  readonly tornBytes: number;
  readonly disturbedRuns: number;
  readonly throttledRuns: number;
  /** Workloads left out from the start, or parked since. */
  readonly leftOut: readonly string[];
  readonly inventory: Inventory;
  /** What differs from the inventory of the sitting of its rig before it. */
  readonly changes: readonly RigChange[];
  readonly accepted: readonly AcceptedChange[];
}

/** Where a campaign stands. Equal for the same sittings, in whatever order or folders they were found. */
export interface CampaignProgress {
  readonly campaign: string;
  /** Of the suite; sittings of others do not count. */
  readonly digest: string;
  /** One for each rig in the order of the file; last, where wanted, the baseline measured again. */
  readonly rows: readonly ProgressRow[];
  /** Sittings of the campaign's rigs that are in no row, oldest first. */
  readonly others: readonly OtherSitting[];
  /** Rig of the newest sitting of any of them, and that sitting: as far as anybody knows this is what stands on the bench. */
  readonly last: { readonly rig: string; readonly sitting: string } | null;
}

export interface ProgressRow {
  readonly rig: string;
  /** The baseline after the last sitting of any other rig. */
  readonly isReturn: boolean;
  readonly wanted: number;
  /** Measured, or open and to be continued: what need not be begun any more. */
  readonly counted: number;
  /** Sittings in order of time, then one for each that is to do. */
  readonly cells: readonly ProgressCell[];
}

export type ProgressCell = SittingCell | ToDoCell;

export interface SittingCell {
  /** `odd` counts as done: nothing is replaced. */
  readonly state: 'done' | 'open' | 'odd';
  readonly sitting: string;
  readonly assembly: number | null;
  /** Empty unless odd. */
  readonly oddities: readonly SittingOddity[];
  /** Open, and nothing was built or begun since: to be continued first. An open one that is not does not count. */
  readonly isCurrent: boolean;
  /** Only figures read by hand are missing. */
  readonly isWaiting: boolean;
}

export interface ToDoCell {
  readonly state: 'to-do';
}

/** Every code is explained in README.md; a test checks that. */
export const oddityCodes = [
  'runs-failed',
  'record-torn',
  'left-out-workloads',
  'cut-short',
  'runs-disturbed',
  'runs-throttled',
  'unexpected-inventory',
] as const;
export type OddityCode = (typeof oddityCodes)[number];

export interface SittingOddity {
  readonly code: OddityCode;
  /** For people: what was found. */
  readonly message: string;
}

export interface OtherSitting {
  readonly sitting: string;
  readonly rig: string;
  /** `other-suite`: another suite, revision or profile. `again`: it repeats one workload. */
  readonly why: 'other-suite' | 'again';
}

/** What to do now. */
export type NextStep = { readonly kind: 'done' } | OpenStep | MeasureStep;

export interface OpenStep {
  /** `enter`: figures read by hand are missing. */
  readonly kind: 'continue' | 'enter';
  readonly rig: string;
  readonly sitting: string;
}

export interface MeasureStep {
  readonly kind: 'measure';
  readonly rig: string;
  readonly isReturn: boolean;
  /** Which sitting of its row this will be, from 1, and how many there are to be. */
  readonly number: number;
  readonly of: number;
  readonly assembly: number;
  /** Null where the rig stands as it is to be measured. */
  readonly swap: PartSwap | null;
}

/** How a rig is built from the one built last. */
export interface PartSwap {
  /** Label of the rig built last; null where nothing was measured yet. */
  readonly from: string | null;
  /** In the order of the lists in the file; the same part twice for two of them. */
  readonly takeOut: readonly Part[];
  readonly putIn: readonly Part[];
  /** Parts that stay and are taken out and put in again, since the rig is built anew; empty where parts change. */
  readonly reseat: readonly Part[];
}

/** How a reading of the rig stands to what was to be expected. */
export interface RigDeviation {
  /** Such as `memory.total`. */
  readonly path: string;
  /** As expected, or as it was; null: absent. */
  readonly from: string | null;
  readonly to: string | null;
  /** `not-visible`: software cannot tell, the operator has to. */
  readonly kind: 'expected' | 'unexpected' | 'not-visible';
  /** What `from` is: the campaign's expectation, or what a sitting had. */
  readonly against: 'expectation' | 'earlier-sitting' | 'rig-before';
}
