import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Result } from '../../../src/lib/result.ts';
import { unitMeaning } from '../../../src/model/unit.ts';
import {
  durationUnits,
  parseDuration,
  parsePercent,
  parseRate,
  parseSize,
  parseTemperature,
  parseTemperatureDifference,
  sizeUnits,
} from '../../../src/suite/quantity.ts';

function outcome(result: Result<unknown, string>): unknown {
  return result.ok ? result.value : result.error;
}

describe('parseDuration', () => {
  // Unit factors: SI brochure (9th edition), tables 7 and 8.
  it.each([
    ['20 s', 20],
    ['20s', 20],
    ['250 ms', 0.25],
    ['1.1 ms', 0.0011],
    ['3 us', 3e-6],
    ['3 µs', 3e-6],
    ['5 ns', 5e-9],
    ['1.5 min', 90],
    ['2 h', 7200],
    ['0 s', 0],
    ['+1 s', 1],
  ])('reads %s as %d seconds', (text, seconds) => {
    expect(outcome(parseDuration(text))).toBe(seconds);
  });

  it.each([
    ['20', '`20` has no unit; write `20 s`'],
    ['-1 s', '`-1 s` is negative; write a time such as `20 s`'],
    ['NaN s', '`NaN s` is not a number with a unit; write a time such as `20 s`'],
    ['Infinity s', '`Infinity s` is not a number with a unit; write a time such as `20 s`'],
    ['1e3 s', '`1e3 s` has the unit `e3 s`, which is no unit of time'],
    ['1,5 s', '`1,5 s` has the unit `,5 s`, which is no unit of time'],
    ['20  s', '`20  s` is not a number with a unit'],
    ['9007199254740992 s', '`9007199254740992 s` is too large'],
    ['20 MS', '`20 MS` has the unit `MS`, which is no unit of time; did you mean `ms`?'],
    ['20 sec', 'expected `ns`, `us`, `µs`, `μs`, `ms`, `s`, `min` or `h`'],
    ['', '`` is not a number with a unit'],
    ['٣ s', '`٣ s` is not a number with a unit'],
  ])('refuses %s and says why', (text, message) => {
    expect(outcome(parseDuration(text))).toContain(message);
  });

  it('refuses a megabyte of digits at once, with a short message', () => {
    const message = outcome(parseDuration('9'.repeat(2 ** 20)));
    expect(String(message).length).toBeLessThan(200);
  });
});

describe('parseSize', () => {
  // Binary prefixes: IEC 80000-13.
  it.each([
    ['64 MiB', 67_108_864],
    ['64 MB', 64_000_000],
    ['8.3 MB', 8_300_000],
    ['4.35 kB', 4350],
    ['1.1 GB', 1_100_000_000],
    ['1.5 KiB', 1536],
    ['1 kB', 1000],
    ['1 TiB', 1_099_511_627_776],
    ['7 B', 7],
  ])('reads %s as %d bytes', (text, bytes) => {
    expect(outcome(parseSize(text))).toBe(bytes);
  });

  it.each([
    ['64', '`64` has no unit; write `64 MiB`'],
    ['64 MiBi', 'has the unit `MiBi`, which is no unit of size'],
    ['64 mb', 'did you mean `MB`?'],
    ['0.5 B', '`0.5 B` is not a whole number of bytes'],
    ['99999 TiB', 'is too large'],
    ['64 s', 'which is no unit of size'],
  ])('refuses %s and says why', (text, message) => {
    expect(outcome(parseSize(text))).toContain(message);
  });
});

describe('parsePercent', () => {
  it.each([
    ['2 %', 0.02],
    ['0.1%', 0.001],
    ['100 %', 1],
  ])('reads %s as %d', (text, fraction) => {
    expect(outcome(parsePercent(text))).toBe(fraction);
  });

  it('refuses a bare fraction, which could be meant either way', () => {
    expect(outcome(parsePercent('0.02'))).toBe('`0.02` has no unit; write `0.02 %`');
  });
});

describe('parseTemperature', () => {
  it.each([
    ['50 °C', 50],
    ['-10 °C', -10],
    ['-273.15 °C', -273.15],
  ])('reads %s', (text, celsius) => {
    expect(outcome(parseTemperature(text))).toBe(celsius);
  });

  it.each([
    ['50', '`50` has no unit; write `50 °C`'],
    ['50 °F', 'which is no unit of temperature; expected `°C`'],
    ['50 °c', 'did you mean `°C`?'],
    ['-273.16 °C', 'is below absolute zero'],
  ])('refuses %s and says why', (text, message) => {
    expect(outcome(parseTemperature(text))).toContain(message);
  });
});

describe('parseRate', () => {
  it.each([
    ['100 MB/s', 1e8, 'By/s'],
    ['1 GiB/s', 2 ** 30, 'By/s'],
    ['60 frames/s', 60, '{frames}/s'],
    ['144 Hz', 144, 'Hz'],
  ])('reads %s', (text, value, unit) => {
    expect(outcome(parseRate(text))).toEqual({ value, unit });
  });

  it.each(['60', '60 frames', '60 MB', '-1 MB/s', '60 /s', ''])('refuses %s', (text) => {
    expect(parseRate(text).ok).toBe(false);
  });
});

describe('every quantity', () => {
  const cases = [
    ...durationUnits.map((unit) => ({ unit, parse: parseDuration })),
    ...sizeUnits.map((unit) => ({ unit, parse: parseSize })),
    { unit: '%', parse: parsePercent },
    { unit: '°C', parse: parseTemperature },
  ];

  it('is read back as the number that was written times its unit', () => {
    fc.assert(
      fc.property(fc.constantFrom(...cases), fc.nat({ max: 8000 }), ({ unit, parse }, amount) => {
        const read = outcome(parse(`${amount} ${unit}`)) as number;
        expect(read / unitMeaning(unit).factor).toBeCloseTo(amount, 3);
      }),
    );
  });

  it('is refused without its unit, whatever the number', () => {
    fc.assert(
      fc.property(fc.constantFrom(...cases), fc.double({ noNaN: true }), ({ parse }, amount) => {
        expect(parse(String(amount)).ok).toBe(false);
      }),
    );
  });

  it('gives a value or a message for any text, and never throws', () => {
    fc.assert(
      fc.property(fc.constantFrom(...cases), fc.string({ unit: 'binary' }), ({ parse }, text) => {
        expect(['number', 'string']).toContain(typeof outcome(parse(text)));
      }),
    );
  });
});

describe('parseTemperatureDifference', () => {
  it.each([
    ['3 K', 3],
    ['2.5K', 2.5],
  ])('reads %s as %d kelvin', (text, kelvin) => {
    expect(outcome(parseTemperatureDifference(text))).toBe(kelvin);
  });

  it.each([
    ['3 °C', 'which is no unit of temperature difference; expected `K`'],
    ['3 k', 'did you mean `K`?'],
    ['3', '`3` has no unit; write `3 K`'],
    ['-3 K', '`-3 K` is negative'],
  ])('refuses %s and says why', (text, message) => {
    expect(outcome(parseTemperatureDifference(text))).toContain(message);
  });
});
