import { err, ok, type Result } from '../../lib/result.ts';
import { individualsLimits } from '../../stats/individuals-limits.ts';
import { tQuantile } from '../../stats/t-quantile.ts';

/** Fewer sittings tell too little of their spread. */
const leastBaseline = 8;
/** More add little, and take longer to come together. */
const mostBaseline = 20;

/** The level and spread of the first sittings, on logs, and how far later ones may lie from them. */
export interface BaselinePhase {
  readonly count: number;
  readonly center: number;
  /** Standard deviation by moving ranges. */
  readonly sigma: number;
  /** Standard deviations that stand for three of a spread that is known exactly. */
  readonly width: number;
}

/**
 * Three standard deviations leave out 0.27 % of values if centre and spread are known. From few sittings they are not, so the
 * quantile of Student's t for that share takes the place of 3: moving ranges of m values have about 0.6 (m − 1) degrees of
 * freedom (their variance is some 1.6 times that of a standard deviation of the same values; `npm run calibrate` holds it to the wanted share).
 */
const share = 0.99865;
const freedomOfRanges = 0.6;

/**
 * The baseline phase of a series: `wanted` of its first values, else half of them, at least 8 and at most 20. The error is the
 * reason, for people.
 */
export function baselinePhase(
  logs: readonly number[],
  wanted: number | null,
): Result<BaselinePhase, string> {
  const half = Math.floor(logs.length / 2);
  const count = wanted ?? Math.min(mostBaseline, Math.max(leastBaseline, half));
  if (logs.length < count) {
    const what = logs.length === 1 ? 'is 1 sitting' : `are ${logs.length} sittings`;
    return err(
      `limits need a baseline of ${count} sittings, there ${what}: ${missing(count, logs)}`,
    );
  }
  const limits = individualsLimits(logs.slice(0, count));
  if (!limits.ok)
    return err(
      limits.error.code === 'no-spread'
        ? 'no limits: the sittings of the baseline are all equal'
        : `no limits: ${limits.error.message}`,
    );
  const { center, sigma } = limits.value;
  return ok({ count, center, sigma, width: tQuantile(share, freedomOfRanges * (count - 1)) });
}

function missing(count: number, logs: readonly number[]): string {
  return `measure ${count - logs.length} more`;
}
