import { err, ok, type Result } from '../lib/result.ts';
import type { StatsFailure } from './failure.ts';
import type { Variance } from './pooled-variance.ts';

/** One independent mean square of a sum of variances, and the factor it enters with (negative ones occur). */
export interface VarianceTerm extends Variance {
  readonly factor: number;
}

/**
 * Variance Σ a·MS with Satterthwaite's degrees of freedom (Σ a·MS)² / Σ((a·MS)²/df) (F. E. Satterthwaite, Biometrics
 * Bull. 2(6), 1946; JCGM 100:2008 G.4). Good where all factors are positive; with negative ones only while those terms are small.
 * `no-spread` where the sum is zero; `out-of-range` where it is negative.
 */
export function satterthwaite(terms: readonly VarianceTerm[]): Result<Variance, StatsFailure> {
  const parts = terms.map(({ factor, value }) => factor * value);
  const total = parts.reduce((sum, part) => sum + part, 0);
  if (total === 0) return err({ code: 'no-spread', message: 'a sum of variances is zero' });
  if (!(total > 0 && Number.isFinite(total))) {
    return err({
      code: 'out-of-range',
      message: `a sum of variances is finite and above zero, got ${total}`,
    });
  }
  // Shares instead of squares: those of tiny variances would underflow.
  const inverse = terms.reduce(
    (sum, { degreesOfFreedom }, at) => sum + ((parts[at] ?? 0) / total) ** 2 / degreesOfFreedom,
    0,
  );
  return ok({ value: total, degreesOfFreedom: 1 / inverse });
}
