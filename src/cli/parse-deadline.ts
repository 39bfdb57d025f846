import { z } from 'zod';
import { err, ok, type Result } from '../lib/result.ts';
import { parseDuration } from '../suite/quantity.ts';

export interface DeadlineFlags {
  readonly until?: string;
  readonly for?: string;
}

const timestamp = z.iso.datetime({ offset: true });

/** When a sitting is to be over, from `--until` or `--for`; null when neither is given. */
export function parseDeadline(flags: DeadlineFlags, now: Date): Result<Date | null, string> {
  if (flags.until !== undefined) return parseUntil(flags.until, now);
  if (flags.for !== undefined) return parseFor(flags.for, now);
  return ok(null);
}

/** Seconds from `8h`, `90 min`. */
export function parseLength(text: string): Result<number, string> {
  const seconds = parseDuration(text);
  if (!seconds.ok) return err(`option --for: ${seconds.error}`);
  if (seconds.value === 0) return err('option --for: no time at all; write one such as 8h');
  return seconds;
}

function parseFor(text: string, now: Date): Result<Date, string> {
  const seconds = parseLength(text);
  if (!seconds.ok) return seconds;
  const end = new Date(now.getTime() + seconds.value * 1000);
  const isDate = Number.isFinite(end.getTime()) && end.getFullYear() <= 9999;
  return isDate ? ok(end) : err('option --for: too long; write a time such as 8h');
}

function parseUntil(text: string, now: Date): Result<Date, string> {
  const time = /^([01]?\d|2[0-3]):([0-5]\d)$/.exec(text);
  if (time !== null) return ok(nextLocal(Number(time[1]), Number(time[2]), now));
  if (!timestamp.safeParse(text).success) {
    const shown = text.length > 40 ? `${text.slice(0, 40)}…` : text;
    return err(
      `option --until: \`${shown}\` is no time; write one of the day such as 07:00, or a full one such as 2026-12-24T07:00:00+01:00`,
    );
  }
  const end = new Date(text);
  return end > now ? ok(end) : err(`option --until: ${text} has passed already`);
}

/** The next such time of the day; one that a change to summer time leaves out is an hour later. */
function nextLocal(hours: number, minutes: number, now: Date): Date {
  const [year, month, day] = [now.getFullYear(), now.getMonth(), now.getDate()];
  const today = new Date(year, month, day, hours, minutes);
  return today > now ? today : new Date(year, month, day + 1, hours, minutes);
}
