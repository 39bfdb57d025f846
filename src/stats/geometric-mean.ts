import { err, ok, type Result } from '../lib/result.ts';
import { checkPositive, type StatsFailure } from './failure.ts';
import { mean } from './mean.ts';

/**
 * Geometric mean: right for ratios, since the result does not depend on which side is the reference (Fleming & Wallace,
 * CACM 29(3), 1986). At least one value, all above zero. By logarithms, so that long lists do not overflow.
 */
export function geometricMean(values: readonly number[]): Result<number, StatsFailure> {
  const fault = checkPositive('a geometric mean', values, 1);
  if (fault !== null) return err(fault);
  const centre = mean(values.map(Math.log));
  return centre.ok ? ok(Math.exp(centre.value)) : centre;
}

/**
 * Geometric mean with weights that count in proportion, exp(Σ w log x / Σ w). As many weights as values, none negative,
 * not all zero.
 */
export function weightedGeometricMean(
  values: readonly number[],
  weights: readonly number[],
): Result<number, StatsFailure> {
  const fault = checkPositive('a geometric mean', values, 1);
  if (fault !== null) return err(fault);
  const share = weightShares(weights, values.length);
  if (!share.ok) return share;
  return ok(
    Math.exp(share.value.reduce((log, part, at) => log + part * Math.log(values[at] ?? NaN), 0)),
  );
}

/** The weights scaled to a sum of one: `count` of them, finite, none negative, not all zero. */
export function weightShares(
  weights: readonly number[],
  count: number,
): Result<readonly number[], StatsFailure> {
  const total = weights.reduce((a, b) => a + b, 0);
  const sound = weights.every((weight) => weight >= 0 && Number.isFinite(weight));
  if (weights.length === count && sound && total > 0)
    return ok(weights.map((weight) => weight / total));
  return err({
    code: 'out-of-range',
    message: `weights are ${count} finite numbers, none negative and not all zero, got ${weights.join(', ')}`,
  });
}
