import { describe, expect, it } from 'vitest';
import { averageEstimate } from '../../../src/stats/average-estimate.ts';
import { geometricMean } from '../../../src/stats/geometric-mean.ts';
import { unwrap } from '../../setup/unwrap.ts';

const estimates = [1.02, 1.1, 0.97].map((ratio, at) => ({
  value: Math.log(ratio),
  standardError: 0.01 * (at + 1),
  degreesOfFreedom: 4 + at,
}));

describe('averageEstimate', () => {
  it('of log ratios is the log of their geometric mean', () => {
    const { value } = unwrap(averageEstimate(estimates));
    expect(Math.exp(value)).toBeCloseTo(unwrap(geometricMean([1.02, 1.1, 0.97])), 14);
  });

  it('has the error of independent rows: of n alike it falls with √n, and the degrees of freedom add up', () => {
    const alike = new Array(4).fill({ value: 1, standardError: 0.2, degreesOfFreedom: 3 });
    const found = unwrap(averageEstimate(alike));
    expect(found.standardError).toBeCloseTo(0.1, 14);
    expect(found.degreesOfFreedom).toBeCloseTo(12, 12);
  });

  it('is the row itself where all weight is on it', () => {
    const [, second] = estimates;
    const found = unwrap(averageEstimate(estimates, [0, 3, 0]));
    expect(found.value).toBeCloseTo(second?.value ?? NaN, 14);
    expect(found.standardError).toBeCloseTo(second?.standardError ?? NaN, 14);
    expect(found.degreesOfFreedom).toBeCloseTo(5, 12);
  });

  it('needs rows and weights that fit', () => {
    expect(averageEstimate([])).toMatchObject({ error: { code: 'too-few-values' } });
    expect(averageEstimate(estimates, [1, 2])).toMatchObject({ error: { code: 'out-of-range' } });
    const exact = { value: 1, standardError: 0, degreesOfFreedom: 3 };
    expect(averageEstimate([exact])).toMatchObject({ error: { code: 'no-spread' } });
  });
});
