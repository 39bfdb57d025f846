import { err, ok, type Result } from '../lib/result.ts';
import type { StatsFailure } from './failure.ts';
import { checkProbabilities, risingOrder } from './holm.ts';

/**
 * Benjamini and Hochberg's adjusted p values (J. R. Stat. Soc. B 57(1), 1995), in the order given: of those at or below q, at
 * most the share q is false in expectation, for independent or positively dependent tests. For screening many rows; verdicts
 * use `holm`. Empty for none; `out-of-range` for anything that is not a probability.
 */
export function benjaminiHochberg(
  pValues: readonly number[],
): Result<readonly number[], StatsFailure> {
  const fault = checkProbabilities(pValues);
  if (fault !== null) return err(fault);
  const adjusted = new Array<number>(pValues.length).fill(1);
  let reached = 1;
  for (const [place, at] of [...risingOrder(pValues).entries()].reverse()) {
    reached = Math.min(reached, (pValues.length / (place + 1)) * (pValues[at] ?? 1));
    adjusted[at] = reached;
  }
  return ok(adjusted);
}
