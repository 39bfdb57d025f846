import { createHash } from 'node:crypto';
import type { Correction, RunRecord } from '../model/run.ts';

/**
 * The journal, `runs.jsonl`: one run or correction a line, JSON, UTF-8, ended by a line feed. Each line's last member is
 * `"sum"`: the first 32 hex digits of SHA-256 over the previous line's sum and this line's text before `,"sum":`.
 * The first line follows the sum of 32 zeros. So a changed, missing, doubled or reordered line is found, and any
 * JSON Lines reader still reads the file.
 */

/** What a line of a sitting's journal holds, but for its sum. Other files of the results folder have this format too. */
export type JournalEntry = RunRecord | Correction;

export const firstSum: string = '0'.repeat(32);
const tail = /,"sum":"([0-9a-f]{32})"\}$/;

function sumOf(previousSum: string, body: string): string {
  return createHash('sha256').update(previousSum).update(body).digest('hex').slice(0, 32);
}

export interface EncodedLine {
  /** With its line feed. */
  readonly text: string;
  readonly sum: string;
}

/** `record` is an object with at least one member. */
export function encodeLine(record: object, previousSum: string): EncodedLine {
  const body = JSON.stringify(record).slice(0, -1);
  const sum = sumOf(previousSum, body);
  return { text: `${body},"sum":"${sum}"}\n`, sum };
}

export type DecodedLine =
  | { readonly ok: true; readonly value: unknown; readonly sum: string }
  | { readonly ok: false; readonly reason: string };

/** Checks and parses one line without its line feed. `value` no longer holds `sum`. */
export function decodeLine(line: string, previousSum: string): DecodedLine {
  const found = tail.exec(line);
  if (found?.[1] === undefined) return { ok: false, reason: 'the line does not end in a checksum' };
  const body = line.slice(0, found.index);
  if (sumOf(previousSum, body) !== found[1]) {
    return { ok: false, reason: 'the checksum does not fit the line and the one before it' };
  }
  try {
    return { ok: true, value: JSON.parse(`${body}}`), sum: found[1] };
  } catch (error) {
    return { ok: false, reason: `not JSON: ${(error as Error).message}` };
  }
}
