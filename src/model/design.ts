import type { Question } from './campaign.ts';

/** What the check of a design may find; each is explained in README.md. */
export const designFindingCodes = [
  'several-factors',
  'undeclared-parts',
  'aliased',
  'missing-cell',
  'one-level',
  'unused-level',
  'same-rig',
  'no-question',
  'no-repeats',
  'no-return',
  'one-assembly',
  'unseen',
  'no-study',
] as const;
export type DesignFindingCode = (typeof designFindingCodes)[number];

/** Whether the rigs of a campaign can answer its questions, and what it takes to measure them. */
export interface DesignCheck {
  readonly campaign: string;
  readonly title: string;
  readonly invented: boolean;
  /** One for each question, in their order. */
  readonly answers: readonly DesignAnswer[];
  /** About the campaign as a whole. */
  readonly findings: readonly DesignFinding[];
  readonly effort: CampaignEffort;
  /** The precision study that `sight` goes by; null where there is none of this suite. */
  readonly study: { readonly rig: string; readonly at: string; readonly sittings: number } | null;
}

export interface DesignAnswer {
  readonly question: Question;
  /** For people, as in "effect of board". */
  readonly asks: string;
  /** `only-if`: under an assumption that a finding names. */
  readonly answer: 'yes' | 'only-if' | 'no';
  readonly findings: readonly DesignFinding[];
  /** Null without a precision study, and where the question cannot be answered. */
  readonly sight: Sight | null;
}

export interface DesignFinding {
  readonly code: DesignFindingCode;
  /** `stop`: a question cannot be answered. */
  readonly severity: 'stop' | 'warn' | 'note';
  readonly message: string;
  /** What would mend it at the least cost; null where nothing is to be mended. */
  readonly remedy: string | null;
  /** Rigs that would mend it; null where it takes something else. */
  readonly addition: Addition | null;
}

export interface Addition {
  /** Levels of each rig to be added. */
  readonly rigs: readonly Readonly<Record<string, string>>[];
  /** What measuring them takes. */
  readonly seconds: number;
}

/** The smallest difference that the planned sittings show, by a precision study; of the metric that shows least. */
export interface Sight {
  readonly workload: string;
  readonly metric: string;
  /** Found four times out of five; a fraction: 0.03 is 3 %. */
  readonly detectable: number;
  /** Chance to find the difference that matters. */
  readonly power: number;
  /** Of each rig, to find the difference that matters four times out of five; null where 100 do not. */
  readonly sittingsNeeded: number | null;
}

export interface CampaignEffort {
  readonly rigs: number;
  /** Return to the baseline included. */
  readonly sittings: number;
  /** How often a rig is built into another. */
  readonly swaps: number;
  /** Sittings and swaps together. */
  readonly seconds: number;
  readonly sittingSeconds: number;
  /** Whether seconds per run were measured or are assumed. */
  readonly basis: 'measured' | 'partly-measured' | 'assumed';
  readonly swapSeconds: number;
}
