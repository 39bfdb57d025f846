import { describe, expect, it } from 'vitest';
import { reflectedShare } from '../../../../src/workloads/render/fresnel.ts';

// Closed forms from Fresnel's equations (textbook optics, from memory).
describe('the reflected share', () => {
  it('straight on is ((n1 - n2) / (n1 + n2)) squared, from either side', () => {
    expect(reflectedShare(1, 1 / 1.5)).toBeCloseTo(0.04, 14);
    expect(reflectedShare(1, 1.5)).toBeCloseTo(0.04, 14);
    expect(reflectedShare(1, 1 / 1.33)).toBeCloseTo((0.33 / 2.33) ** 2, 14);
  });

  it('at Brewster’s angle is half of ((n² - 1) / (n² + 1)) squared', () => {
    for (const n of [1.33, 1.5, 2.4])
      expect(reflectedShare(1 / Math.sqrt(1 + n * n), 1 / n)).toBeCloseTo(
        ((n * n - 1) / (n * n + 1)) ** 2 / 2,
        12,
      );
  });

  it('is everything at grazing light and beyond the critical angle, not before it', () => {
    expect(reflectedShare(0, 1 / 1.5)).toBe(1);
    const critical = Math.sqrt(1 - 1 / 1.5 ** 2);
    expect(reflectedShare(critical - 1e-9, 1.5)).toBe(1);
    expect(reflectedShare(critical + 1e-3, 1.5)).toBeLessThan(1);
  });

  it('is the same along a path and back', () => {
    for (const cosine of [0.2, 0.5, 0.9]) {
      const beyond = Math.sqrt(1 - (1 - cosine * cosine) / 1.5 ** 2);
      expect(reflectedShare(beyond, 1.5)).toBeCloseTo(reflectedShare(cosine, 1 / 1.5), 12);
    }
  });
});
