import { createHash, hash } from 'node:crypto';
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

/** `,"sum":"`, 32 digits and `"}` */
const tailBytes = 42;
const tail = /^,"sum":"([0-9a-f]{32})"\}$/;

/**
 * Checks and parses the line from `start` to `end`, its line feed left out. `value` no longer holds `sum`. The checksum is taken
 * over the bytes as they are.
 */
export function decodeLine(
  bytes: Buffer,
  start: number,
  end: number,
  previousSum: string,
): DecodedLine {
  const bodyEnd = Math.max(start, end - tailBytes);
  const found = tail.exec(bytes.toString('latin1', bodyEnd, end));
  if (found?.[1] === undefined) return { ok: false, reason: 'the line does not end in a checksum' };
  const length = bodyEnd - start;
  const work = workspace(firstSum.length + length + 1);
  work.write(previousSum, 0, 'latin1');
  bytes.copy(work, firstSum.length, start, bodyEnd);
  const textEnd = firstSum.length + length;
  const sum = hash('sha256', work.subarray(0, textEnd), 'hex').slice(0, firstSum.length);
  if (sum !== found[1]) {
    return { ok: false, reason: 'the checksum does not fit the line and the one before it' };
  }
  work[textEnd] = 0x7d;
  try {
    const value = JSON.parse(work.toString('utf8', firstSum.length, textEnd + 1));
    return { ok: true, value, sum };
  } catch (error) {
    return { ok: false, reason: `not JSON: ${(error as Error).message}` };
  }
}

let shared: Buffer = Buffer.allocUnsafe(2 ** 14);

/** Room for one line: hashing and parsing want its text whole, between the sum before it and a brace of our own. */
function workspace(length: number): Buffer {
  if (shared.length < length) shared = Buffer.allocUnsafe(length * 2);
  return shared;
}
