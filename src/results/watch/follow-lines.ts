import { type FileHandle, open } from 'node:fs/promises';
import { ownFileFlags } from '../../lib/own-file.ts';

/** Reads a file that others append to, from where it was left the last time. */
export interface LineFollower {
  /**
   * Hands on each line that has become whole since, without its line feed. A file that is not there has no lines; one that is
   * shorter than what was read is another file, and is read from its beginning after `restart` is called.
   */
  read(take: (line: Buffer) => void, restart?: () => void): Promise<void>;
}

const chunkBytes = 256 * 1024;
/** A line beyond is passed over: a file that is no file of lines must not fill memory. */
const longestLineBytes = 8 * 2 ** 20;

/** `from` is the offset of the first byte to read; what comes before the line feed after it is passed over unless it is 0. */
export function followLines(path: string, from = 0): LineFollower {
  let offset = from;
  let isInLine = from > 0;
  return {
    async read(take, restart) {
      const file = await openOrNull(path);
      if (file === null) return;
      try {
        const { size } = await file.stat();
        if (size < offset) {
          offset = 0;
          isInLine = false;
          restart?.();
        }
        let room = Math.min(chunkBytes, size - offset);
        while (offset < size) {
          const chunk = await readAt(file, offset, Math.min(room, size - offset));
          const end = chunk.lastIndexOf(0x0a);
          if (end === -1 && room < size - offset && room < longestLineBytes) {
            room *= 2;
            continue;
          }
          if (end === -1) {
            // The last line is still being written.
            if (chunk.length < longestLineBytes) break;
            isInLine = true;
            offset += chunk.length;
            continue;
          }
          let start = isInLine ? chunk.indexOf(0x0a) + 1 : 0;
          while (start <= end) {
            const feed = chunk.indexOf(0x0a, start);
            take(chunk.subarray(start, feed));
            start = feed + 1;
          }
          isInLine = false;
          offset += end + 1;
          room = chunkBytes;
        }
      } finally {
        await file.close();
      }
    },
  };
}

async function openOrNull(path: string): Promise<FileHandle | null> {
  try {
    return await open(path, ownFileFlags.read);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}

async function readAt(file: FileHandle, offset: number, length: number): Promise<Buffer> {
  const buffer = Buffer.allocUnsafe(length);
  let filled = 0;
  while (filled < length) {
    const { bytesRead } = await file.read(buffer, filled, length - filled, offset + filled);
    if (bytesRead === 0) break;
    filled += bytesRead;
  }
  return buffer.subarray(0, filled);
}
