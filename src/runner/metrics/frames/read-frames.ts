import { constants } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import { err, type Result } from '../../../lib/result.ts';
import type { FrameFigure, FrameSource } from '../../../model/suite.ts';
import { ColumnScanner } from './column-scanner.ts';
import { computeFigures } from './compute-figures.ts';
import { ValueStore } from './value-store.ts';

/** Which column of a frame log, and what its numbers mean. */
export type FrameColumn = Pick<FrameSource, 'column' | 'delimiter' | 'factor'>;

const pieceBytes = 2 ** 18;
const longestRow = `${pieceBytes / 2 ** 10} KiB`;

/**
 * Figures of one column of a frame log, in the order asked for, from one reading of the file: frames per second, seconds, or
 * a number of frames. The log is a CSV (RFC
 * 4180, UTF-8) with a heading line; any length is read in constant memory. The error is a clause without the file's name:
 * what is wrong in which line, or which figure has too few frames.
 */
export async function readFrameFigures(
  path: string,
  column: FrameColumn,
  figures: readonly FrameFigure[],
): Promise<Result<readonly number[], string>> {
  const times = new ValueStore();
  try {
    // No following of links, no waiting on a pipe the program may have put there.
    const file = await open(path, constants.O_RDONLY | constants.O_NOFOLLOW | constants.O_NONBLOCK);
    try {
      const fault = await readTimes(file, column, times);
      if (fault !== null) return err(fault);
    } finally {
      await file.close();
    }
    return await computeFigures(times, column.factor, figures);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === undefined) throw error;
    const isFull = code === 'ENOSPC' || code === 'EDQUOT';
    return err(
      isFull ? 'the temporary folder has no room for its frames' : `cannot be read: ${code}`,
    );
  } finally {
    await times.close();
  }
}

/** All times of the column into the store, or what is wrong. */
async function readTimes(
  file: FileHandle,
  column: FrameColumn,
  times: ValueStore,
): Promise<string | null> {
  if (!(await file.stat()).isFile()) return 'is not a regular file';
  const scanner = new ColumnScanner(column);
  // One more byte than is read, for the line end that a last line may lack.
  const piece = Buffer.allocUnsafe(pieceBytes + 1);
  const found = new Float64Array(pieceBytes / 2 + 1);
  for (let kept = 0, isFirst = true, isLast = false; !isLast; isFirst = false) {
    const { bytesRead } = await file.read(piece, kept, pieceBytes - kept);
    let end = kept + bytesRead;
    isLast = bytesRead === 0;
    if (isLast && end > 0) end += piece.write('\n', end);
    const start = isFirst ? markLength(piece.subarray(0, end)) : 0;
    if (start === null) return 'is UTF-16; expected UTF-8: let the program write UTF-8';
    const { count, consumed } = scanner.scan(piece.subarray(start, end), found);
    if (scanner.fault !== null) return scanner.fault;
    await times.append(found.subarray(0, count));
    piece.copyWithin(0, start + consumed, end);
    kept = end - start - consumed;
    if (kept === pieceBytes) return `line ${scanner.line} is longer than ${longestRow}`;
    if (isLast && kept > 0) return `line ${scanner.line} opens a quotation mark that is not closed`;
  }
  return scanner.hasHeading ? null : 'is empty; expected a heading line and a row for each frame';
}

/** Bytes of a byte order mark to pass over; null for UTF-16. */
function markLength(bytes: Buffer): number | null {
  const [first, second, third] = bytes;
  if ((first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff)) return null;
  return first === 0xef && second === 0xbb && third === 0xbf ? 3 : 0;
}
