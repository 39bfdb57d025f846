import { describe, expect, it } from 'vitest';
import { ownInterval } from '../../../../src/compare/figures/own-interval.ts';
import { poolSittings } from '../../../../src/compare/pool.ts';
import { gatherSeries, type Series } from '../../../../src/compare/series.ts';
import { indexStudies } from '../../../../src/compare/studies.ts';
import { sampleRig, sampleStudy } from '../../../setup/figures.ts';
import { reference } from '../../stats/reference.ts';

function series(sittings: readonly (readonly number[])[]): Series {
  const [only] = gatherSeries(sampleRig('bench-a', sittings).sittings, 'kept').values();
  if (only === undefined) throw new Error('no series');
  return only;
}
const known = {
  rig: 'bench-a',
  studies: [],
  confidence: 0.95,
  pool: { variance: null, unequal: false },
};

describe('the interval of a rig’s own mean', () => {
  // R: confint(lm(log(y) ~ 0 + group)), which is mean ± t(27) · s/√10 with s² the residual mean square of the analysis of variance of
  // PlantGrowth: 0.38859 (R documentation of PlantGrowth, aov summary); t(27; 0.975) = 2.0518 (NIST TN 1297 interpolates).
  it('is that of a linear model with one residual variance, on sitting means', () => {
    const { data } = reference('r-plantgrowth-three-groups');
    const groups = [data.ctrl, data.trt1, data.trt2].map((values: number[]) =>
      series(values.map((value) => [Math.exp(value)])),
    );
    const pool = poolSittings(groups, 0.05);
    const half = (2.0518 * Math.sqrt(0.38859)) / Math.sqrt(10);
    for (const [at, mean] of [5.032, 4.661, 5.526].entries()) {
      const own = groups[at];
      if (own === undefined) throw new Error('no group');
      const { basis, interval } = ownInterval(own, { ...known, pool });
      expect(basis).toBe('sittings');
      expect(Math.log(interval?.low ?? 0)).toBeCloseTo(mean - half, 3);
      expect(Math.log(interval?.high ?? 0)).toBeCloseTo(mean + half, 3);
    }
  });

  it('takes the spread of other rigs for a single sitting, else a study, else its own repeats', () => {
    const single = series([[1, 1.01, 0.99]]);
    const pool = { variance: { value: 0.0004, degreesOfFreedom: 4 }, unequal: false };
    expect(ownInterval(single, { ...known, pool }).basis).toBe('sittings');
    const study = sampleStudy('bench-a', {
      sr: 0.01,
      srDf: 8,
      sb: 0.02,
      sbDf: 4,
      effectiveRepeats: 3,
    });
    const studies = [...indexStudies([study], study.digest).values()].flat();
    const studied = ownInterval(single, { ...known, studies });
    expect(studied.basis).toBe('precision-study');
    const alone = ownInterval(single, known);
    expect(alone.basis).toBe('repeats-only');
    const width = ({ interval }: typeof alone): number =>
      (interval?.high ?? 0) - (interval?.low ?? 0);
    expect(width(studied)).toBeGreaterThan(width(alone));
  });

  it('has none of one value, of equal values and of values that have no logarithm', () => {
    expect(ownInterval(series([[1]]), known).interval).toBeNull();
    expect(ownInterval(series([[1], [1]]), known).interval).toBeNull();
    expect(
      ownInterval(
        series([
          [0, 1],
          [1, 2],
        ]),
        known,
      ),
    ).toEqual({ basis: 'sittings', interval: null });
  });
});
