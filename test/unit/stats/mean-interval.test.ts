import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { relativeHalfWidth } from '../../../src/stats/half-width.ts';
import { harmonicMean } from '../../../src/stats/harmonic-mean.ts';
import { harmonicMeanInterval, meanInterval } from '../../../src/stats/mean-interval.ts';
import { needs } from '../../setup/needs.ts';
import { unwrap } from '../../setup/unwrap.ts';

describe('meanInterval', () => {
  // NIST/SEMATECH e-Handbook 1.3.5.2, heat flow meter: limits at eight levels, printed to six decimals.
  const zarr = needs.reference('nist-1.3.5.2-ci-mean');
  it.skipIf(zarr.missing)('gives the limits of handbook 1.3.5.2 at all eight levels', () => {
    const { data, expected } = JSON.parse(readFileSync(zarr.path, 'utf8'));
    expect(expected.table).toHaveLength(8);
    for (const { alpha, lower, upper } of expected.table) {
      const { low, high } = unwrap(meanInterval(data.y, 1 - alpha));
      expect(Math.abs(low - lower)).toBeLessThan(1.01e-6);
      expect(Math.abs(high - upper)).toBeLessThan(1.01e-6);
    }
  });

  // Handbook 7.2.2, particle counts; the interval computed by R 4.2.2 and scipy 1.17.1.
  it('gives the interval of the wafer counts of handbook 7.2.2', () => {
    const path = new URL('../../reference/nist-7.2.2-one-sample-t.json', import.meta.url);
    const { data, expected } = JSON.parse(readFileSync(path, 'utf8'));
    const { low, high } = unwrap(meanInterval(data.y));
    expect(low).toBeCloseTo(expected.ci95_computed[0], 10);
    expect(high).toBeCloseTo(expected.ci95_computed[1], 10);
  });

  it('gives no interval from one value, nor at an impossible level', () => {
    expect(meanInterval([3])).toMatchObject({ error: { code: 'too-few-values' } });
    expect(meanInterval([3, 4], 1)).toMatchObject({ error: { code: 'out-of-range' } });
  });
});

describe('the harmonic mean', () => {
  it('is total work over total time', () => {
    // 100 MB at 50 MB/s and 100 MB at 25 MB/s take 2 s and 4 s: 200 MB in 6 s.
    expect(unwrap(harmonicMean([50, 25]))).toBeCloseTo(200 / 6, 12);
    expect(harmonicMean([50, 0])).toMatchObject({ error: { code: 'not-positive' } });
  });

  it('has the interval of the times, turned over', () => {
    const rates = [50, 40, 45, 48];
    const times = unwrap(meanInterval(rates.map((rate) => 1 / rate)));
    const { low, high } = unwrap(harmonicMeanInterval(rates));
    expect(1 / low).toBeCloseTo(times.high, 12);
    expect(1 / high).toBeCloseTo(times.low, 12);
    expect(low).toBeLessThan(unwrap(harmonicMean(rates)));
    expect(high).toBeGreaterThan(unwrap(harmonicMean(rates)));
  });

  it('has no upper bound when the times reach zero', () => {
    expect(harmonicMeanInterval([1, 1000])).toMatchObject({ error: { code: 'out-of-range' } });
  });
});

describe('relativeHalfWidth', () => {
  it('is the half-width over the mean for a time', () => {
    // t(0.975, 1) = 12.706; mean 10, s = sqrt(2): 12.706 * sqrt(2) / sqrt(2) / 10.
    const width = unwrap(relativeHalfWidth([9, 11], { unit: 's', better: 'lower' }));
    expect(width).toBeCloseTo(1.27062, 4);
  });
});
