import { describe, expect, it } from 'vitest';
import { parseUnit, parseWork } from '../../../src/suite/unit-text.ts';

describe('parseUnit', () => {
  it.each([
    ['MB/s', 'By/s', 1e6],
    ['ms', 's', 1e-3],
    ['points', '{points}', 1],
    ['frames/s', '{frames}/s', 1],
    ['1', '1', 1],
    ['%', '1', 0.01],
  ])('takes %s as %s', (text, code, factor) => {
    expect(parseUnit(text)).toEqual({ ok: true, value: { code, factor } });
  });

  it.each([
    ['sec', '`sec` is no known unit; did you mean `s`?'],
    ['bytes/s', '`bytes/s` is no known unit; did you mean `B/s`?'],
    ['mb/s', '`mb/s` is no known unit; did you mean `MB/s`?'],
    ['Mib', '`Mib` is no known unit; did you mean `MiB`?'],
    ['points per second', '`points per second` is no unit'],
    ['a/b/s', '`a/b/s` is no unit'],
    ['{x}', '`{x}` is no unit'],
  ])('refuses %s', (text, message) => {
    const parsed = parseUnit(text);
    expect(parsed.ok ? null : parsed.error).toContain(message);
  });

  it('is not led astray by names that every object has', () => {
    expect(parseUnit('constructor')).toEqual({
      ok: true,
      value: { code: '{constructor}', factor: 1 },
    });
  });
});

describe('parseWork', () => {
  it.each([
    ['64 MiB', 67_108_864, 'By'],
    ['1200 frames', 1200, '{frames}'],
    ['1.5 jobs', 1.5, '{jobs}'],
  ])('takes %s', (text, amount, code) => {
    expect(parseWork(text)).toEqual({ ok: true, value: { amount, code } });
  });

  it.each([
    ['1200', 'is no amount of work; write one such as `64 MiB` or `1200 frames`'],
    ['5 s', 'is no amount of work'],
    ['0 frames', 'is no work at all'],
    ['0 MiB', 'is no work at all'],
    ['64 mib', 'did you mean `MiB`?'],
    ['-5 frames', 'is no amount of work'],
  ])('refuses %s', (text, message) => {
    const parsed = parseWork(text);
    expect(parsed.ok ? null : parsed.error).toContain(message);
  });
});
