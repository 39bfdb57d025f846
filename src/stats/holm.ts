import { err, ok, type Result } from '../lib/result.ts';
import type { StatsFailure } from './failure.ts';

/**
 * Holm's adjusted p values (Scand. J. Stat. 6, 1979), in the order given: those at or below alpha are rejected, and the chance
 * of even one false rejection among all of them is at most alpha, whatever their dependence. Empty for none; `out-of-range` for
 * anything that is not a probability.
 */
export function holm(pValues: readonly number[]): Result<readonly number[], StatsFailure> {
  const fault = checkProbabilities(pValues);
  if (fault !== null) return err(fault);
  const adjusted = new Array<number>(pValues.length).fill(1);
  let reached = 0;
  for (const [place, at] of risingOrder(pValues).entries()) {
    reached = Math.min(1, Math.max(reached, (pValues.length - place) * (pValues[at] ?? 1)));
    adjusted[at] = reached;
  }
  return ok(adjusted);
}

/** A failure unless all are probabilities. */
export function checkProbabilities(pValues: readonly number[]): StatsFailure | null {
  const odd = pValues.find((p) => !(p >= 0 && p <= 1));
  if (odd === undefined) return null;
  return { code: 'out-of-range', message: `a p value lies between 0 and 1, got ${odd}` };
}

/** Indices from the smallest value to the largest. */
export function risingOrder(values: readonly number[]): readonly number[] {
  return values.map((_, at) => at).sort((a, b) => (values[a] ?? 0) - (values[b] ?? 0));
}
