import { createHash, hash } from 'node:crypto';
import { createReadStream, lstatSync, readFileSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { ownFileFlags } from '../lib/own-file.ts';

/**
 * The parts of BagIt (RFC 8493) that sealing and verifying share. A payload path in a manifest is relative to the
 * bag, with `/`, and has only CR, LF and % percent-encoded (section 2.1.3).
 */

export const bagDeclaration = 'BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n';
/** Written before `bagit.txt`; the tag manifest names these and `bagit.txt`. */
export const tagFiles = ['bag-info.txt', 'manifest-sha512.txt'] as const;

/** Read at once up to this size: hashing it blocks longer than reading it, and a bag may hold thousands of small files. */
const smallBytes = 2 ** 23;

// Node takes the numbers too, its types do not know.
const unfollowing = ownFileFlags.read as unknown as string;

/** SHA-512 (hex) of a file that is no link. Rejects with what the system says. */
export async function fileSha512(path: string): Promise<string> {
  if (lstatSync(path).size <= smallBytes)
    return hash('sha512', readFileSync(path, { flag: unfollowing }), 'hex');
  const running = createHash('sha512');
  for await (const part of createReadStream(path, { highWaterMark: 2 ** 20, flags: unfollowing })) {
    running.update(part as Buffer);
  }
  return running.digest('hex');
}

export interface FolderEntry {
  /** Relative to the bag, `/` between names. */
  readonly path: string;
  /** Links and devices have no place in a bag: following them would seal what lies elsewhere. */
  readonly isFile: boolean;
}

/** All that is not a folder below `start`, sorted by path. */
export async function listEntries(bag: string, start: string): Promise<FolderEntry[]> {
  const entries = await readdir(join(bag, start), { withFileTypes: true });
  const found: FolderEntry[] = [];
  for (const entry of entries) {
    const path = start === '' ? entry.name : `${start}/${entry.name}`;
    if (entry.isDirectory()) found.push(...(await listEntries(bag, path)));
    else found.push({ path, isFile: entry.isFile() });
  }
  return found.sort((a, b) => (a.path < b.path ? -1 : 1));
}

export function renderManifest(sums: readonly (readonly [path: string, sum: string])[]): string {
  return sums.map(([path, sum]) => `${sum}  ${encodePath(path)}\n`).join('');
}

/** Path to checksum (lower-case hex); a string tells which line is not a manifest line. */
export function parseManifest(text: string): ReadonlyMap<string, string> | string {
  const sums = new Map<string, string>();
  for (const [index, line] of text.split(/\r\n|\n|\r/).entries()) {
    if (line === '') continue;
    const parts = /^([0-9a-fA-F]{128})[ \t]+\*?(.+)$/.exec(line);
    if (parts?.[1] === undefined || parts[2] === undefined)
      return `line ${index + 1} is not "checksum path"`;
    sums.set(decodePath(parts[2]), parts[1].toLowerCase());
  }
  return sums;
}

function encodePath(path: string): string {
  return path.replace(/%/g, '%25').replace(/\n/g, '%0A').replace(/\r/g, '%0D');
}

function decodePath(path: string): string {
  return path.replace(/%0A/gi, '\n').replace(/%0D/gi, '\r').replace(/%25/g, '%');
}
