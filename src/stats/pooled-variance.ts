import { err, ok, type Result } from '../lib/result.ts';
import { checkValues, type StatsFailure } from './failure.ts';
import { standardDeviation } from './standard-deviation.ts';

/** A variance with the degrees of freedom behind it, whole or (by Satterthwaite) not. */
export interface Variance {
  readonly value: number;
  readonly degreesOfFreedom: number;
}

/**
 * One variance from several groups with a common spread, Σ(n − 1)s² / Σ(n − 1). Groups of one value add nothing; groups that
 * spread very differently should not be pooled (see `levene`). At least one group with two values.
 */
export function pooledVariance(
  groups: readonly (readonly number[])[],
): Result<Variance, StatsFailure> {
  let squares = 0;
  let degreesOfFreedom = 0;
  for (const group of groups) {
    const fault = checkValues('a pooled variance', group, 0);
    if (fault !== null) return err(fault);
    const spread = standardDeviation(group);
    if (!spread.ok) continue;
    squares += spread.value ** 2 * (group.length - 1);
    degreesOfFreedom += group.length - 1;
  }
  if (degreesOfFreedom > 0) return ok({ value: squares / degreesOfFreedom, degreesOfFreedom });
  return err({
    code: 'too-few-values',
    message: 'a pooled variance needs at least one group of two values, got none',
  });
}
