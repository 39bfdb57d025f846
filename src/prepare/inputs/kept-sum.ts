import { readFile } from 'node:fs/promises';
import { writeFileDurably } from '../../lib/durable-fs.ts';

/** What is known of a file or folder in the cache since it was made. */
export interface KeptSum {
  /** Of a file; files and links in a folder. */
  readonly size: number;
  /** Of a file's bytes; of a folder's listing. */
  readonly sha256: string;
}

const sumPath = (path: string): string => `${path}.json`;

/** Null where there is none, or it cannot be made out. */
export async function readSum(path: string): Promise<KeptSum | null> {
  try {
    const { size, sha256 } = JSON.parse(await readFile(sumPath(path), 'utf8'));
    return Number.isSafeInteger(size) && /^[0-9a-f]{64}$/.test(sha256) ? { size, sha256 } : null;
  } catch {
    return null;
  }
}

export function writeSum(path: string, { size, sha256 }: KeptSum): Promise<void> {
  return writeFileDurably(sumPath(path), `${JSON.stringify({ size, sha256 })}\n`);
}
