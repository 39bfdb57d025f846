import { err, ok, type Result } from '../lib/result.ts';
import { checkValues, type StatsFailure } from './failure.ts';

/**
 * Exponentially weighted moving average, one for each value: z = λ·x + (1 − λ)·z before, begun at `target`
 * (NIST/SEMATECH e-Handbook 6.3.2.4). At least 1 value; `lambda` above 0 and at most 1.
 */
export function ewma(
  values: readonly number[],
  { target, lambda }: { readonly target: number; readonly lambda: number },
): Result<readonly number[], StatsFailure> {
  const fault = checkValues('a moving average', values, 1) ?? checkLambda(lambda);
  if (fault !== null) return err(fault);
  let before = target;
  return ok(
    values.map((value) => {
      before = lambda * value + (1 - lambda) * before;
      return before;
    }),
  );
}

/**
 * Half the width of the limits around the target once the average has run for a while, `width` standard deviations of it:
 * width · σ · √(λ / (2 − λ)) (handbook 6.3.2.4). With `baseline` values behind the target its own error is added: + 1 / baseline
 * under the root.
 */
export function ewmaReach({
  sigma,
  lambda,
  width,
  baseline = Number.POSITIVE_INFINITY,
}: {
  readonly sigma: number;
  readonly lambda: number;
  readonly width: number;
  readonly baseline?: number;
}): number {
  return width * sigma * Math.sqrt(lambda / (2 - lambda) + 1 / baseline);
}

function checkLambda(lambda: number): StatsFailure | null {
  if (lambda > 0 && lambda <= 1) return null;
  return {
    code: 'out-of-range',
    message: `a weight lies above 0 and up to 1, got ${lambda}`,
  };
}
