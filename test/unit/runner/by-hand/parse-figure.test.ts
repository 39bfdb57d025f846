import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { figureText } from '../../../../src/model/figure-text.ts';
import type { Metric } from '../../../../src/model/suite.ts';
import { unitMeaning } from '../../../../src/model/unit.ts';
import { parseFigure } from '../../../../src/runner/by-hand/parse-figure.ts';

function metricIn(symbol: string, least: number | null = null, most: number | null = null): Metric {
  const { code, factor } = unitMeaning(symbol);
  return {
    id: 'score',
    source: { kind: 'operator', factor, symbol, least, most },
    unit: code,
    better: 'higher',
  };
}

const points = metricIn('points', 0, 10_000);

describe('parseFigure', () => {
  it.each([
    ['4120', points, 4120],
    ['  4120.5 ', points, 4120.5],
    ['4120 points', points, 4120],
    ['4120points', points, 4120],
    ['007', points, 7],
    ['-3.5', metricIn('°C'), -3.5],
    ['-0', metricIn('°C'), 0],
    ['1.1', metricIn('ms'), 0.0011],
    ['1.1 ms', metricIn('ms'), 0.0011],
    ['2 s', metricIn('ms'), 2],
    ['2 min', metricIn('s'), 120],
    ['1 MiB/s', metricIn('MB/s'), 1_048_576],
    ['1 MB/s', metricIn('MiB/s'), 1e6],
    ['12 %', metricIn('%'), 0.12],
    ['12%', metricIn('%'), 0.12],
    ['60 frames/s', metricIn('frames/s'), 60],
  ])('reads %j', (text, metric, value) => {
    expect(parseFigure(text, metric)).toEqual({ ok: true, value });
  });

  it.each([
    ['41,5', points, 'holds a comma: write the decimal sign as a point'],
    ['4,120', points, 'holds a comma'],
    ['4.120,5', points, 'holds a comma'],
    ['4 120', points, 'separator between its digits'],
    ["4'120", points, 'separator between its digits'],
    ['', points, 'is not a plain number; type one such as 41.5'],
    ['many', points, 'is not a plain number'],
    ['.5', points, 'is not a plain number'],
    ['5.', points, 'is not a plain number'],
    ['1.2.3', points, 'is not a plain number'],
    ['1e3', points, 'is not a plain number'],
    ['+5', points, 'is not a plain number'],
    ['−5', points, 'is not a plain number'],
    ['NaN', points, 'is not a plain number'],
    ['Infinity', points, 'is not a plain number'],
    ['0x10', points, 'the unit `x10` does not fit score, which is in `points`'],
    ['4120 Points', points, 'did you mean `points`?'],
    ['4120 s', points, 'does not fit score, which is in `points`; type the number alone'],
    ['41 MB', metricIn('MB/s'), 'the unit `MB` does not fit score, which is in `MB/s`'],
    ['-1', points, '-1 points is below the least that score can be, 0 points'],
    ['10000.1', points, '10000.1 points is above the most that score can be, 10000 points'],
    ['9'.repeat(400), points, 'is not a plain number'],
    ['\u001b[31m5', points, '`�[31m5` is not a plain number'],
  ])('refuses %j', (text, metric, message) => {
    const read = parseFigure(text, metric);
    expect(read).toMatchObject({ ok: false, error: expect.stringContaining(message) });
  });

  it('compares with the range in base units, the bounds themselves allowed', () => {
    const metric = metricIn('ms', 0.001, 0.002);
    expect(parseFigure('1', metric).ok && parseFigure('2', metric).ok).toBe(true);
    expect(parseFigure('2.001', metric)).toMatchObject({
      error: expect.stringContaining('2.001 ms is above the most that score can be, 2 ms'),
    });
    expect(parseFigure('0.003 s', metric)).toMatchObject({
      error: expect.stringContaining('3 ms is above'),
    });
  });

  const units = ['points', 'ms', 's', 'MB/s', 'MiB/s', '%', 'GHz', 'frames/s', '°C'];
  const digits = fc.tuple(fc.integer({ min: 0, max: 999_999 }), fc.integer({ min: 0, max: 999 }));

  it('gives back what is written again, in any unit', () => {
    fc.assert(
      fc.property(digits, fc.constantFrom(...units), ([whole, part], symbol) => {
        const metric = metricIn(symbol);
        const written = String(Number(`${whole}.${String(part).padStart(3, '0')}`));
        const read = parseFigure(`${written} ${symbol}`, metric);
        expect(read.ok && figureText(read.value, metric)).toBe(`${written} ${symbol}`);
      }),
    );
  });

  it('gives the same figure with the unit and without', () => {
    fc.assert(
      fc.property(digits, fc.constantFrom(...units), ([whole, part], symbol) => {
        const metric = metricIn(symbol);
        expect(parseFigure(`${whole}.${part}`, metric)).toEqual(
          parseFigure(`${whole}.${part} ${symbol}`, metric),
        );
      }),
    );
  });

  it('answers any text by a finite value in range or a short message', () => {
    const figureLike = fc.string({
      unit: fc.constantFrom(..."0123456789.,-+ eE'points ms%"),
      maxLength: 20,
    });
    fc.assert(
      fc.property(fc.oneof(fc.string({ unit: 'binary' }), figureLike), (text) => {
        const read = parseFigure(text, points);
        if (read.ok) expect(read.value >= 0 && read.value <= 10_000).toBe(true);
        else expect(read.error.length).toBeLessThan(200);
        if (text.includes(',')) expect(read.ok).toBe(false);
      }),
      { numRuns: 2000 },
    );
  });
});
