import { type PrivateLiteral, scrubLiterals, scrubText } from '../../../lib/scrub-text.ts';
import type { Report } from '../../../model/report.ts';

export interface ScrubbedReport {
  readonly report: Report;
  /** How often each kind of thing was taken out: `<host>` to 3. */
  readonly removed: ReadonlyMap<string, number>;
}

/**
 * The report once more without addresses, home paths, names and serial numbers of this machine, in every text of it, keys too. Results were scrubbed
 * when they were made; titles, reasons and prices of a campaign were not, and this machine may be another one.
 */
export function scrubReport(report: Report, literals: readonly PrivateLiteral[]): ScrubbedReport {
  const removed = new Map<string, number>();
  const scrubber =
    (method: typeof scrubText) =>
    (text: string): string => {
      const found = method(text, literals);
      if (found.redactions > 0) count(removed, found.text);
      return found.text;
    };
  const { inventory, ...rest } = report;
  const scrubbed = {
    ...(eachText(rest, scrubber(scrubText)) as Omit<Report, 'inventory'>),
    inventory: eachText(inventory, scrubber(scrubLiterals)) as Report['inventory'],
  };
  return { report: scrubbed, removed };
}

/** Adds the placeholders in a scrubbed text. */
export function count(removed: Map<string, number>, text: string): void {
  for (const [placeholder] of text.matchAll(/<(?:uuid|mac|ip|home|host|user|serial)>/g))
    removed.set(placeholder, (removed.get(placeholder) ?? 0) + 1);
}

function eachText(value: unknown, change: (text: string) => string): unknown {
  if (typeof value === 'string') return change(value);
  if (Array.isArray(value)) return value.map((one) => eachText(one, change));
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, one]) => [change(name), eachText(one, change)]),
  );
}
