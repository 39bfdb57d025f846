import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  formatDuration,
  formatNumber,
  formatPercent,
  formatQuantity,
} from '../../../src/report/quantity.ts';
import { renderStrip } from '../../../src/report/strip.ts';

describe('formatQuantity', () => {
  // Prefixes: SI brochure, 9th edition; IEC 80000-13 for KiB and MiB.
  it.each([
    [0.00125, 's', '1.250 ms'],
    [236.4e-9, 's', '236.4 ns'],
    [75.5, 's', '75.50 s'],
    [67_108_864, 'By', '64.00 MiB'],
    [64_000_000, 'By/s', '64.00 MB/s'],
    [2.4e9, 'Hz', '2.400 GHz'],
    [41, 'Cel', '41.00 °C'],
    [0, 's', '0 ns'],
    [1234, '{points}', '1234 points'],
    [395_602.7, '{records}/s', '395.6 k records/s'],
    [5_100_000, '{samples}/s', '5.100 M samples/s'],
    [3.5, '1', '3.500'],
  ])('shows %d %s as %s', (value, unit, expected) => {
    expect(formatQuantity(value, unit)).toBe(expected);
  });
});

describe('formatNumber', () => {
  it('reads back within half of its last digit', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-4, max: 1e9, noNaN: true }), (value) => {
        expect(Math.abs(Number(formatNumber(value)) - value) / value).toBeLessThanOrEqual(0.000501);
      }),
    );
  });
});

describe('formatDuration', () => {
  it.each([
    [0.5, '0.5 s'],
    [48, '48 s'],
    [59.7, '1 min 00 s'],
    [125, '2 min 05 s'],
    [25_920, '7 h 12 min'],
    [3599.6, '1 h 00 min'],
  ])('shows %d seconds as %s', (seconds, expected) =>
    expect(formatDuration(seconds)).toBe(expected),
  );

  it('shows shares as percentages', () => expect(formatPercent(0.00423)).toBe('0.42 %'));
});

describe('renderStrip', () => {
  it('places each run between the smallest and the largest', () => {
    expect(renderStrip([0, 5, 10, 10], 11)).toBe('·    ·    o');
    expect(renderStrip([3, 3, 3], 5)).toBe('  8  ');
  });
});
