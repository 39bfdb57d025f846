import { describe, expect, it } from 'vitest';
import { logSittingMeans } from '../../../src/stats/sitting-means.ts';
import { unwrap } from '../../setup/unwrap.ts';

describe('logSittingMeans', () => {
  it('takes the arithmetic mean of costs and the harmonic of rates', () => {
    const sittings = [[10, 30], [5]];
    expect(unwrap(logSittingMeans(sittings, 'cost')).map(Math.exp)).toEqual([
      expect.closeTo(20, 12),
      expect.closeTo(5, 12),
    ]);
    expect(unwrap(logSittingMeans(sittings, 'rate')).map(Math.exp)).toEqual([
      expect.closeTo(15, 12),
      expect.closeTo(5, 12),
    ]);
    expect(logSittingMeans(sittings, 'other')).toEqual(logSittingMeans(sittings, 'cost'));
  });

  it('gives a rate the negative of what its time is', () => {
    const [time] = unwrap(logSittingMeans([[2, 4, 5]], 'cost'));
    const [rate] = unwrap(logSittingMeans([[1 / 2, 1 / 4, 1 / 5]], 'rate'));
    expect(rate).toBeCloseTo(-(time ?? NaN), 12);
  });

  it('needs sittings with values above zero', () => {
    expect(logSittingMeans([], 'cost')).toMatchObject({ error: { code: 'too-few-values' } });
    expect(logSittingMeans([[1], []], 'cost')).toMatchObject({ error: { code: 'too-few-values' } });
    expect(logSittingMeans([[1, 0]], 'cost')).toMatchObject({ error: { code: 'not-positive' } });
  });
});
