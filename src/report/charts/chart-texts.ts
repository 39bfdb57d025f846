import type { Report } from '../../model/report.ts';
import { plainText } from '../comparison/plain-text.ts';
import { intervalText, ratioText } from '../comparison/ratio-text.ts';

/** What a picture that travels alone says of its origin. */
export function footOf({ suite, sources, tool }: Report): string {
  return plainText(
    `Suite ${suite.id} revision ${suite.revision}; ${sources.length} sittings; steadyrig ${tool}`,
  );
}

/** `1.062 (1.050 … 1.074)`. */
export function ratioWithInterval(row: Parameters<typeof ratioText>[0]): string {
  if (row.ratio === null) return 'no ratio';
  return row.low === null
    ? `${ratioText(row)}, no interval`
    : `${ratioText(row)} (${intervalText(row)})`;
}

/** `95 %`. */
export function confidenceText(confidence: number): string {
  return `${Math.round(confidence * 1000) / 10} %`;
}

/** What intervals speak of where nothing is known of how far sittings lie apart; empty where all speak of rigs. */
export function basisNote(bases: readonly string[]): string {
  return bases.includes('repeats-only') ? '; repeats only: of these sittings, not of the rigs' : '';
}

/** `; not measured: a, b`; empty without names. */
export function leftOutNote(words: string, names: readonly string[]): string {
  const most = 6;
  if (names.length === 0) return '';
  const more = names.length > most ? ` and ${names.length - most} more` : '';
  return `; ${words}: ${names.slice(0, most).join(', ')}${more}`;
}
