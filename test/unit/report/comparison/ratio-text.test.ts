import { describe, expect, it } from 'vitest';
import { uncertaintyDecimals } from '../../../../src/lib/uncertainty-decimals.ts';
import {
  effectText,
  intervalText,
  pText,
  ratioText,
} from '../../../../src/report/comparison/ratio-text.ts';

describe('rounding by the uncertainty', () => {
  // GUM (JCGM 100:2008) 7.2.6: 10.057 62 Ω with an uncertainty of 27 mΩ is told as 10.058 Ω.
  it('keeps two significant digits of it and as many decimals of the value', () => {
    expect(uncertaintyDecimals(0.027)).toBe(3);
    expect((10.057_62).toFixed(uncertaintyDecimals(0.027) ?? 0)).toBe('10.058');
    expect(uncertaintyDecimals(0.0996)).toBe(2);
    expect(uncertaintyDecimals(0.994)).toBe(2);
    expect(uncertaintyDecimals(0.996)).toBe(1);
    expect(uncertaintyDecimals(25)).toBe(0);
    expect(uncertaintyDecimals(1e-12)).toBe(6);
    for (const none of [null, 0, Number.NaN, Number.POSITIVE_INFINITY])
      expect(uncertaintyDecimals(none)).toBeNull();
  });

  it('goes by the shorter side of an interval', () => {
    const row = { ratio: 1.0692, low: 1.031, high: 1.1082 };
    expect([ratioText(row), intervalText(row)]).toEqual(['1.069', '1.031 … 1.108']);
    const wide = { ratio: 1.41, low: 0.0021, high: 819.2 };
    expect([ratioText(wide), intervalText(wide)]).toEqual(['1.41', '0.00 … 819']);
    expect(intervalText({ ratio: 2, low: 0.5, high: 123456 })).toBe('0.50 … >1000');
    const none = { ratio: 1.234_56, low: null, high: null };
    expect([ratioText(none), intervalText(none)]).toEqual(['1.23', '–']);
    expect(ratioText({ ratio: null, low: null, high: null })).toBe('–');
  });

  it('says how far from 1 in words', () => {
    expect(effectText({ ratio: 1.0692, low: 1.031, high: 1.1082 })).toBe('6.9 % better');
    expect(effectText({ ratio: 0.936, low: 0.9311, high: 0.941 })).toBe('6.40 % worse');
    expect(effectText({ ratio: 1.0001, low: 0.97, high: 1.03 })).toBe('level');
  });

  it('tells p with two digits', () => {
    expect([0.0123, 0.5, 1, 1e-9, null].map(pText)).toEqual([
      '0.012',
      '0.50',
      '>0.99',
      '<0.001',
      '–',
    ]);
  });
});
