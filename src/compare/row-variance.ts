import { err, ok, type Result } from '../lib/result.ts';
import type { PrecisionRow } from '../model/precision.ts';
import type { StatsFailure } from '../stats/failure.ts';
import type { Variance } from '../stats/pooled-variance.ts';
import { sittingMeanVariance } from '../stats/sitting-precision.ts';

/**
 * Variance of the log of a further sitting's mean of `repeats` repeats, with its degrees of freedom, as the row of a stored
 * study has it. Where the study had single runs only, their spread stands for any number of repeats: an upper bound.
 * `no-spread` where no two runs of the study differ.
 */
export function rowVariance(
  row: Pick<PrecisionRow, 'sr' | 'srDf' | 'sb' | 'sbDf' | 'effectiveRepeats'>,
  repeats: number,
): Result<Variance, StatsFailure> {
  const { sr, srDf, sb, sbDf, effectiveRepeats } = row;
  if (sr === null) {
    return sb > 0
      ? ok({ value: sb ** 2, degreesOfFreedom: sbDf })
      : err({ code: 'no-spread', message: 'no two runs of the study differ' });
  }
  return sittingMeanVariance(
    {
      // Where s_b was cut off at zero this is not the mean square of the study, and not looked at.
      between: { value: sr ** 2 + effectiveRepeats * sb ** 2, degreesOfFreedom: sbDf },
      within: { value: sr ** 2, degreesOfFreedom: srDf },
      effectiveSize: effectiveRepeats,
      betweenVariance: sb ** 2,
    },
    repeats,
  );
}
