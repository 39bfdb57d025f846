import type { Verdict } from '../model/comparison.ts';
import { ratioLimits, testEquivalence } from '../stats/equivalence.ts';
import type { Estimate } from '../stats/estimate.ts';

export interface Levels {
  /** 1 − confidence. */
  readonly alpha: number;
  /** A fraction; 0: every difference matters, and nothing is equivalent. */
  readonly matters: number;
}

/**
 * Better or worse when the adjusted p rejects equality: that comes first, so a difference that is real and too small to matter is still
 * `better` or `worse` (and flagged `too-small-to-matter`). Else equivalent when two one-sided tests at the same level, not adjusted,
 * hold the ratio within the difference that matters; else undecided.
 */
export function verdictOf(
  estimate: Estimate,
  adjustedP: number,
  { alpha, matters }: Levels,
): Verdict {
  if (adjustedP < alpha) return estimate.value > 0 ? 'better' : 'worse';
  return isWithin(estimate, { alpha, matters }) ? 'equivalent' : 'undecided';
}

/** True when two one-sided tests hold the ratio within the difference that matters. */
export function isWithin(estimate: Estimate, { alpha, matters }: Levels): boolean {
  const limits = ratioLimits(matters);
  if (!limits.ok) return false;
  const test = testEquivalence(estimate, limits.value);
  return test.ok && test.value.p < alpha;
}
