import { err, ok, type Result } from '../lib/result.ts';
import type { Problem, ProblemCode } from '../model/problem.ts';
import { decodeLine, firstSum } from './format.ts';

/** No record comes near: a text without an end must not be searched through again and again, nor parsed. */
const longestLineBytes = 8 * 2 ** 20;

/** What a file of chained lines holds beside its records. */
export interface Chain {
  /** Bytes of whole, good lines. */
  readonly validBytes: number;
  /** Bytes after them: a last line that was being written when the machine stopped. 0 in a whole file. */
  readonly tornBytes: number;
  readonly lastSum: string;
}

/**
 * Walks the lines of a file in the journal's format, giving each record with its line number to `take`; what that returns ends
 * the walk. A last line without its line feed, or a tail of NUL bytes (what some file systems leave after a power cut), is
 * torn: it was never acknowledged and is left out. Damage anywhere else is `journal-damaged` with its line.
 */
export function parseLines(
  bytes: Buffer,
  path: string,
  take: (record: unknown, line: number) => Problem | null,
): Result<Chain, Problem> {
  const end = bytes.length - trailingNuls(bytes);
  let position = 0;
  let sum = firstSum;
  for (let number = 1; position < end; number += 1) {
    const feed = bytes.indexOf(0x0a, position);
    if ((feed === -1 ? end : feed) - position > longestLineBytes) {
      const message = `damaged: a line has more than ${longestLineBytes} bytes`;
      return err(lineProblem('journal-damaged', path, number, message));
    }
    if (feed === -1 || feed >= end) {
      if (isTorn(bytes.toString('utf8', position, end))) break;
      const message = 'damaged: the line feed after a whole line is not there';
      return err(lineProblem('journal-damaged', path, number, message));
    }
    const line = decodeLine(bytes, position, feed, sum);
    if (!line.ok)
      return err(lineProblem('journal-damaged', path, number, `damaged: ${line.reason}`));
    const fault = take(line.value, number);
    if (fault !== null) return err(fault);
    sum = line.sum;
    position = feed + 1;
  }
  return ok({ validBytes: position, tornBytes: bytes.length - position, lastSum: sum });
}

export function lineProblem(
  code: ProblemCode,
  file: string,
  line: number,
  message: string,
): Problem {
  return { code, file, line, column: null, message };
}

/** A torn line is the beginning of a line: nothing can follow its checksum. */
function isTorn(text: string): boolean {
  return !/,"sum":"[0-9a-f]{32}"\}./s.test(text);
}

function trailingNuls(bytes: Buffer): number {
  let count = 0;
  while (count < bytes.length && bytes[bytes.length - 1 - count] === 0) count += 1;
  return count;
}
