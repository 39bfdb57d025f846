import { type FileHandle, open } from 'node:fs/promises';
import { ownFileFlags } from '../../lib/own-file.ts';
import { sensorTableSchema } from '../../model/telemetry.ts';

/** How each table of sensors begins, and nothing else. */
export const tableStart: string = `{"schema":"${sensorTableSchema}"`;

/** Enough for some samples of a rig with many sensors. */
const tailBytes = 64 * 1024;
const chunkBytes = 2 ** 20;

export interface TelemetryTail {
  /** The last table of sensors before, as its line; null where the tail is the whole file, or none was found. */
  readonly table: string | null;
  /** Offset of the tail; it may lie within a line. */
  readonly from: number;
}

/**
 * The end of a `telemetry.jsonl` and the table that says what is in it; null while the file is not there. The table is the
 * first line, but for a sitting that was continued (`hasParts`): there it is searched for backwards.
 */
export async function findTelemetryTail(
  path: string,
  hasParts: boolean,
): Promise<TelemetryTail | null> {
  const file = await open(path, ownFileFlags.read).catch(() => null);
  if (file === null) return null;
  try {
    const { size } = await file.stat();
    const from = size - tailBytes;
    if (from <= 0) return { table: null, from: 0 };
    const tableAt = hasParts ? await findTableBefore(file, from) : 0;
    const table = await lineAt(file, tableAt);
    // The byte before is the line feed of the table: what the follower passes over is then empty.
    const tableEnd = table === null ? 0 : tableAt + Buffer.byteLength(table);
    return { table, from: Math.max(from, tableEnd) };
  } finally {
    await file.close();
  }
}

/** Offset of the last table that begins before `end`; 0 when there is none. */
async function findTableBefore(file: FileHandle, end: number): Promise<number> {
  const buffer = Buffer.alloc(chunkBytes + tableStart.length);
  for (let at = end; at > 0; at -= chunkBytes) {
    const start = Math.max(0, at - chunkBytes);
    // Some bytes more: the begin of a table may lie across two chunks.
    const { bytesRead } = await file.read(buffer, 0, at - start + tableStart.length, start);
    const found = buffer.subarray(0, bytesRead).lastIndexOf(tableStart);
    if (found >= 0) return start + found;
  }
  return 0;
}

/** The line that begins there, if it ends within a chunk. */
async function lineAt(file: FileHandle, offset: number): Promise<string | null> {
  const buffer = Buffer.alloc(chunkBytes);
  const { bytesRead } = await file.read(buffer, 0, chunkBytes, offset);
  const end = buffer.subarray(0, bytesRead).indexOf(0x0a);
  return end === -1 ? null : buffer.toString('utf8', 0, end);
}
