import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { parseDeadline } from '../../../src/cli/parse-deadline.ts';

const zone = process.env['TZ'];

/** Local times of Berlin: summer time began on 2026-03-29 at 02:00 and ended on 2026-10-25 at 03:00 (EU directive 2000/84/EC). */
beforeEach(() => {
  process.env['TZ'] = 'Europe/Berlin';
});
afterEach(() => {
  if (zone === undefined) delete process.env['TZ'];
  else process.env['TZ'] = zone;
});

function until(text: string, now: string): string | null {
  const parsed = parseDeadline({ until: text }, new Date(now));
  if (!parsed.ok) return parsed.error;
  return parsed.value?.toISOString() ?? null;
}

describe('--until', () => {
  it.each([
    ['07:00', '2026-01-10T21:00:00Z', '2026-01-11T06:00:00.000Z', 'the next morning'],
    ['7:00', '2026-01-10T21:00:00Z', '2026-01-11T06:00:00.000Z', 'without a leading zero'],
    ['23:30', '2026-01-10T21:00:00Z', '2026-01-10T22:30:00.000Z', 'later the same day'],
    ['22:00', '2026-01-10T21:00:00Z', '2026-01-11T21:00:00.000Z', 'this very moment: tomorrow'],
    ['00:00', '2026-12-31T21:00:00Z', '2026-12-31T23:00:00.000Z', 'over the turn of the year'],
    ['07:00', '2026-03-28T21:00:00Z', '2026-03-29T05:00:00.000Z', 'in the night an hour shorter'],
    ['07:00', '2026-10-24T20:00:00Z', '2026-10-25T06:00:00.000Z', 'in the night an hour longer'],
    ['02:30', '2026-03-28T21:00:00Z', '2026-03-29T01:30:00.000Z', 'a time that is left out'],
    [
      '2026-12-24T07:00:00+01:00',
      '2026-12-23T21:00:00Z',
      '2026-12-24T06:00:00.000Z',
      'a full time with its offset from UTC',
    ],
    ['2026-12-24T06:00:00Z', '2026-12-23T21:00:00Z', '2026-12-24T06:00:00.000Z', 'a full UTC time'],
  ])('%s, given at %s, is %s: %s', (text, now, expected) => {
    expect(until(text, now)).toBe(expected);
  });

  it.each([
    '',
    '7',
    '25:00',
    '07:60',
    '7 am',
    '2026-02-30T07:00:00Z',
    '2026-12-24 07:00',
    'tomorrow',
  ])('refuses `%s` and shows what can be written', (text) => {
    expect(until(text, '2026-01-10T21:00:00Z')).toContain('write one of the day such as 07:00');
  });

  it('refuses a full time that has passed', () => {
    expect(until('2026-01-01T07:00:00Z', '2026-01-10T21:00:00Z')).toBe(
      'option --until: 2026-01-01T07:00:00Z has passed already',
    );
  });
});

describe('--for', () => {
  it('is a length of time from now, summer time or not', () => {
    const parsed = parseDeadline({ for: '8h' }, new Date('2026-03-28T21:00:00Z'));
    expect(parsed).toMatchObject({ ok: true, value: new Date('2026-03-29T05:00:00Z') });
  });

  it.each([
    ['8', 'has no unit'],
    ['8 days', 'the unit `days`'],
    ['-8h', 'is negative'],
    ['0 s', 'no time at all'],
    ['99999999999999 s', 'too long'],
  ])('refuses `%s`', (text, message) => {
    const parsed = parseDeadline({ for: text }, new Date());
    expect(parsed.ok ? '' : parsed.error).toContain(message);
  });

  it('is null when neither is given', () => {
    expect(parseDeadline({}, new Date())).toEqual({ ok: true, value: null });
  });
});
