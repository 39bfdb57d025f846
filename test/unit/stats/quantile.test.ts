import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { median, quantile } from '../../../src/stats/quantile.ts';
import { unwrap } from '../../setup/unwrap.ts';

// Hyndman & Fan's nine types computed by R 4.2.2 and numpy; row 7 is type 7.
const path = new URL('../../reference/quantile-types-1-9.json', import.meta.url);
const { data, expected } = JSON.parse(readFileSync(path, 'utf8'));

describe('quantile', () => {
  it('is type 7 of Hyndman and Fan, as R computes it', () => {
    for (const [index, p] of data.p.entries()) {
      expect(unwrap(quantile(data.v, p))).toBeCloseTo(expected.v_types[6][index], 12);
      expect(unwrap(quantile(data.nearest_rank_vector, p))).toBeCloseTo(
        expected.nearest_rank_vector_types[6][index],
        12,
      );
    }
  });

  it('has the median in the middle', () => {
    expect(unwrap(median(data.v))).toBe(expected.robust_v.median);
    expect(unwrap(median([3, 1, 2, 10]))).toBe(2.5);
  });

  it('leaves the values it is given in their order', () => {
    const values = Object.freeze([3, 1, 2]);
    expect(unwrap(median(values))).toBe(2);
    expect(values).toEqual([3, 1, 2]);
  });

  it('refuses a probability outside 0 to 1 and an empty sample', () => {
    expect(quantile([1], 1.1)).toMatchObject({ error: { code: 'out-of-range' } });
    expect(quantile([], 0.5)).toMatchObject({ error: { code: 'too-few-values' } });
  });
});
