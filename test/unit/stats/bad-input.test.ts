import { describe, expect, it } from 'vitest';
import type { Result } from '../../../src/lib/result.ts';
import { autocorrelation } from '../../../src/stats/autocorrelation.ts';
import { bcaInterval } from '../../../src/stats/bca-interval.ts';
import type { StatsFailure } from '../../../src/stats/failure.ts';
import { generalizedEsd } from '../../../src/stats/generalized-esd.ts';
import { geometricMean, weightedGeometricMean } from '../../../src/stats/geometric-mean.ts';
import { harmonicMean } from '../../../src/stats/harmonic-mean.ts';
import { hodgesLehmann, hodgesLehmannInterval } from '../../../src/stats/hodges-lehmann.ts';
import { levene } from '../../../src/stats/levene.ts';
import { mannKendall } from '../../../src/stats/mann-kendall.ts';
import { mannWhitney } from '../../../src/stats/mann-whitney.ts';
import { mean } from '../../../src/stats/mean.ts';
import {
  geometricMeanInterval,
  harmonicMeanInterval,
  meanInterval,
} from '../../../src/stats/mean-interval.ts';
import { medianInterval } from '../../../src/stats/median-interval.ts';
import { nestedComponents } from '../../../src/stats/nested-components.ts';
import { oneWayComponents } from '../../../src/stats/one-way-components.ts';
import { pooledVariance } from '../../../src/stats/pooled-variance.ts';
import { median } from '../../../src/stats/quantile.ts';
import { senSlope } from '../../../src/stats/sen-slope.ts';
import { logSittingMeans } from '../../../src/stats/sitting-means.ts';
import { standardDeviation } from '../../../src/stats/standard-deviation.ts';
import { logRatio, meanDifference } from '../../../src/stats/two-sample-t.ts';
import { variation } from '../../../src/stats/variation.ts';

type Statistic = (values: readonly number[]) => Result<unknown, StatsFailure>;

const good = [3, 1, 4, 1.5, 9, 2.6];
const firstMean = ([sample]: readonly (readonly number[])[]): number =>
  (sample ?? []).reduce((a, b) => a + b, 0) / (sample?.length ?? 1);

const statistics: Readonly<Record<string, Statistic>> = {
  mean,
  harmonicMean,
  geometricMean,
  weightedGeometricMean: (values) =>
    weightedGeometricMean(
      values,
      values.map(() => 1),
    ),
  median,
  standardDeviation,
  variation,
  meanInterval,
  harmonicMeanInterval,
  geometricMeanInterval,
  medianInterval,
  meanDifference: (values) => meanDifference(values, good),
  meanDifferenceOfSecond: (values) => meanDifference(good, values, 'pooled'),
  logRatio: (values) => logRatio(good, values),
  pooledVariance: (values) => pooledVariance([values]),
  oneWayComponents: (values) => oneWayComponents([good, values]),
  nestedComponents: (values) => nestedComponents([[good, values], [good]]),
  levene: (values) => levene([values, good]),
  mannWhitney: (values) => mannWhitney(values, good),
  hodgesLehmann: (values) => hodgesLehmann(values, good),
  hodgesLehmannInterval: (values) => hodgesLehmannInterval(good, values),
  bcaInterval: (values) => bcaInterval([values], firstMean, { seed: 1 }),
  generalizedEsd: (values) => generalizedEsd(values, 1),
  mannKendall,
  senSlope,
  autocorrelation: (values) => autocorrelation(values),
  logSittingMeans: (values) => logSittingMeans([values], 'cost'),
};

/** Those that take logarithms or turn values over. */
const positiveOnly = [
  'harmonicMean',
  'geometricMean',
  'weightedGeometricMean',
  'harmonicMeanInterval',
  'geometricMeanInterval',
  'logRatio',
  'logSittingMeans',
];

describe.each(Object.entries(statistics))('%s', (_, statistic) => {
  it('gives a failure for no values', () => {
    expect(statistic([])).toMatchObject({ ok: false, error: { code: 'too-few-values' } });
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])(
    'gives a failure that names %f',
    (odd) => {
      const values = [...Array.from({ length: 20 }, (_, at) => 1 + at), odd];
      expect(statistic(values)).toMatchObject({
        ok: false,
        error: { code: 'not-finite', message: expect.stringContaining(String(odd)) },
      });
    },
  );

  it('gives a figure or a reason for one value and for equal ones, never a NaN', () => {
    for (const values of [[4], new Array(25).fill(4)]) {
      const found = statistic(values);
      if (found.ok) expect(JSON.stringify(found.value)).not.toMatch(/NaN/);
      else expect(['too-few-values', 'no-spread']).toContain(found.error.code);
      if (found.ok) expectFinite(found.value);
    }
  });

  it('leaves its values as they are', () => {
    const values = Object.freeze(Array.from({ length: 20 }, (_, at) => ((at * 7) % 20) + 1));
    expect(() => statistic(values)).not.toThrow();
  });
});

describe.each(positiveOnly)('%s', (name) => {
  it.each([0, -1])('gives a failure for the value %i', (odd) => {
    expect(statistics[name]?.([...good, odd])).toMatchObject({
      ok: false,
      error: { code: 'not-positive' },
    });
  });
});

/** Fails at a number that is not finite, anywhere inside. */
function expectFinite(value: unknown): void {
  if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true);
  else if (typeof value === 'object' && value !== null) Object.values(value).forEach(expectFinite);
}
