import { err, type Result } from '../lib/result.ts';
import { type Estimate, soundEstimate } from './estimate.ts';
import type { StatsFailure } from './failure.ts';
import { weightShares } from './geometric-mean.ts';
import { satterthwaite } from './satterthwaite.ts';

/**
 * Weighted mean of estimates, Σ w·value / Σ w, with the error of independent ones and Satterthwaite's degrees of freedom. Of log
 * ratios it is the log of their geometric mean. Rows measured in the same sittings are not quite independent: where sittings
 * are the unit, the index of each sitting compared as a value of its own does without that assumption. Equal weights unless
 * given; at least one estimate.
 */
export function averageEstimate(
  estimates: readonly Estimate[],
  weights: readonly number[] = estimates.map(() => 1),
): Result<Estimate, StatsFailure> {
  if (estimates.length === 0) {
    return err({ code: 'too-few-values', message: 'a mean of estimates needs at least 1, got 0' });
  }
  const shares = weightShares(weights, estimates.length);
  if (!shares.ok) return shares;
  const weighted = estimates.map((estimate, at) => ({ ...estimate, share: shares.value[at] ?? 0 }));
  const variance = satterthwaite(
    weighted.map(({ standardError, degreesOfFreedom, share }) => ({
      value: standardError ** 2,
      degreesOfFreedom,
      factor: share ** 2,
    })),
  );
  if (!variance.ok) return variance;
  return soundEstimate('a mean of estimates', {
    value: weighted.reduce((sum, { value, share }) => sum + share * value, 0),
    standardError: Math.sqrt(variance.value.value),
    degreesOfFreedom: variance.value.degreesOfFreedom,
  });
}
