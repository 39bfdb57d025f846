import type { Basis } from '../model/comparison.ts';
import type { Estimate } from '../stats/estimate.ts';
import { mean } from '../stats/mean.ts';
import { pooledVariance, type Variance } from '../stats/pooled-variance.ts';
import { standardDeviation } from '../stats/standard-deviation.ts';
import { differenceWith, logRatio, meanDifference } from '../stats/two-sample-t.ts';
import type { Pool } from './pool.ts';
import type { Series } from './series.ts';
import { type Study, studiedDifference, studyFor } from './studies.ts';

/** Two sides of one metric. */
export interface Question {
  readonly baseline: Series;
  readonly candidate: Series;
  /** Labels of the rigs. */
  readonly rigs: readonly [baseline: string, candidate: string];
  readonly pool: Pool;
  readonly studies: readonly Study[];
}

export interface Answer {
  readonly basis: Basis;
  /** Log of candidate over baseline, above 0 when the candidate is better; null where a value is zero or below. */
  readonly log: number | null;
  /** The same with its error; null where `obstacle` says why there is none. */
  readonly estimate: Estimate | null;
  readonly obstacle: 'zero-values' | 'one-value' | 'no-spread' | null;
  /** Standard deviation (log) of a sitting's mean, for `repeats-only` of a repeat; null without an estimate. */
  readonly spread: number | null;
}

/**
 * How far two sides lie apart, on the best basis that there is.
 *
 * Two sittings or more on both sides: `sittings`, the variance pooled over the rigs of the comparison unless they spread unlike;
 * then Welch. Two or more on one side only: still `sittings`, the single one taken to spread as the repeated ones do (of all
 * rigs where these spread alike, else of the other side), unless a precision study knows more (has more degrees of
 * freedom). One a side: `precision-study` where one covers it, else `repeats-only`: Welch on the repeats.
 */
export function estimatePair(question: Question): Answer {
  const { baseline, candidate } = question;
  const counts = [baseline.sittings.length, candidate.sittings.length];
  const [first, second] = [candidate.logs, baseline.logs];
  if (first === null || second === null) {
    const basis = Math.min(...counts) >= 2 ? 'sittings' : 'repeats-only';
    return { basis, log: null, estimate: null, obstacle: 'zero-values', spread: null };
  }
  if (Math.min(...counts) >= 2) return ofSittings(question, first, second);
  return ofSingleSitting(question, first, second);
}

type Logs = readonly number[];

function ofSittings({ baseline, pool }: Question, first: Logs, second: Logs): Answer {
  if (pool.variance !== null) return answer('sittings', baseline, { first, second }, pool.variance);
  const welch = meanDifference(first, second, 'welch');
  return {
    ...plain('sittings', baseline, first, second),
    estimate: welch.ok ? oriented(welch.value, baseline) : null,
    obstacle: welch.ok ? null : 'no-spread',
    spread: welch.ok ? commonSpread(first, second) : null,
  };
}

function ofSingleSitting(question: Question, first: Logs, second: Logs): Answer {
  const { baseline } = question;
  const repeated = repeatedSpread(question, first, second);
  const studied = studiedVariance(question);
  const knowsMore = (studied?.degreesOfFreedom ?? 0) > (repeated?.degreesOfFreedom ?? 0);
  if (studied !== null && knowsMore) {
    return studyAnswer(baseline, { first, second }, studied);
  }
  if (first.length > 1 || second.length > 1) {
    return answer('sittings', baseline, { first, second }, repeated);
  }
  return ofRepeats(question, first, second);
}

/** From sittings that are repeated, when one side's are. */
function repeatedSpread({ pool }: Question, first: Logs, second: Logs): Variance | null {
  if (first.length < 2 && second.length < 2) return null;
  if (pool.variance !== null) return pool.variance;
  const own = pooledVariance([first, second]);
  return own.ok ? own.value : null;
}

function studiedVariance({ baseline, candidate, rigs, studies }: Question): Variance | null {
  const [own, other] = rigs;
  const [forBaseline, forCandidate] = [
    studyFor(studies, own, other),
    studyFor(studies, other, own),
  ];
  if (forBaseline === null || forCandidate === null) return null;
  const variance = studiedDifference([
    { series: baseline, study: forBaseline },
    { series: candidate, study: forCandidate },
  ]);
  return variance.ok ? variance.value : null;
}

function studyAnswer(
  baseline: Series,
  { first, second }: { readonly first: Logs; readonly second: Logs },
  variance: Variance,
): Answer {
  const base = plain('precision-study', baseline, first, second);
  const estimate = {
    value: base.log,
    standardError: Math.sqrt(variance.value),
    degreesOfFreedom: variance.degreesOfFreedom,
  };
  const sides = 1 / first.length + 1 / second.length;
  return { ...base, estimate, obstacle: null, spread: Math.sqrt(variance.value / sides) };
}

function ofRepeats({ baseline, candidate }: Question, first: Logs, second: Logs): Answer {
  const [own, other] = [baseline.sittings.flat(), candidate.sittings.flat()];
  const base = plain('repeats-only', baseline, first, second);
  if (own.length < 2 || other.length < 2) {
    return { ...base, estimate: null, obstacle: 'one-value', spread: null };
  }
  const welch = logRatio(other, own, 'welch');
  if (!welch.ok) return { ...base, estimate: null, obstacle: 'no-spread', spread: null };
  const estimate = oriented(welch.value, baseline);
  const spread = commonSpread(own.map(Math.log), other.map(Math.log));
  return { ...base, log: estimate.value, estimate, obstacle: null, spread };
}

function answer(
  basis: Basis,
  baseline: Series,
  { first, second }: { readonly first: Logs; readonly second: Logs },
  variance: Variance | null,
): Answer {
  const base = plain(basis, baseline, first, second);
  const found = variance === null ? null : differenceWith(variance, first, second);
  if (variance === null || found?.ok !== true) {
    return { ...base, estimate: null, obstacle: 'no-spread', spread: null };
  }
  const estimate = oriented(found.value, baseline);
  return { ...base, estimate, obstacle: null, spread: Math.sqrt(variance.value) };
}

function plain(
  basis: Basis,
  baseline: Series,
  first: Logs,
  second: Logs,
): { readonly basis: Basis; readonly log: number } {
  return { basis, log: direction(baseline) * (centre(first) - centre(second)) };
}

function centre(values: Logs): number {
  const found = mean(values);
  return found.ok ? found.value : Number.NaN;
}

/** One spread for both sides, as a plan for equal numbers on both takes it. */
function commonSpread(first: Logs, second: Logs): number {
  const [a, b] = [standardDeviation(first), standardDeviation(second)];
  return Math.hypot(a.ok ? a.value : 0, b.ok ? b.value : 0) / Math.SQRT2;
}

function oriented(estimate: Estimate, series: Series): Estimate {
  return { ...estimate, value: direction(series) * estimate.value };
}

function direction({ better }: Series): 1 | -1 {
  return better === 'higher' ? 1 : -1;
}
