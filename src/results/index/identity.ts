import { type Stats, statSync } from 'node:fs';

/**
 * What the file system says of the files that count: of `sitting.json`, `inventory.json`, `runs.jsonl` and `bagit.txt` their numbers,
 * sizes, and times of change, four values a file. Whatever is written, put in the place of another or restored from a copy
 * has others. What changes on the medium by itself has not: that is what seals are for.
 */
export type Identity = ArrayLike<number>;

/** Values of an identity. */
export const identityLength = 16;

/** The seal first: most folders without an identity lack it. As in `sittingPaths`, which would join a quarter of a million paths. */
const files = ['bagit.txt', 'data/sitting.json', 'data/inventory.json', 'data/runs.jsonl'];

const quietly = { throwIfNoEntry: false } as const;

/** Coarser than the clock of any common file system: FAT's goes by two seconds. */
const settledAfterMs = 3_000;

/** Null for a folder that is not sealed: it may change at any time. Synchronous: for thousands of folders five times as fast. */
export function readIdentity(folder: string): Identity | null {
  const identity: number[] = [];
  for (const file of files) {
    const found = look(`${folder}/${file}`);
    if (found === undefined) return null;
    identity.push(found.ino, found.size, found.mtimeMs, found.ctimeMs);
  }
  return identity;
}

function look(path: string): Stats | undefined {
  try {
    return statSync(path, quietly);
  } catch {
    return undefined;
  }
}

/**
 * Whether a further change would show: times of change are coarse, so a file that was written a moment ago may be written
 * again within the same one. `nowMs` is the time before the files were read.
 */
export function isSettled(identity: Identity, nowMs: number): boolean {
  for (let at = 0; at < identityLength; at += 4) {
    const changedMs = Math.max(identity[at + 2] ?? nowMs, identity[at + 3] ?? nowMs);
    if (changedMs > nowMs - settledAfterMs) return false;
  }
  return true;
}

/** Whether `identity` stands in `all` from the place `from` on. */
export function isSameIdentity(identity: Identity, all: Identity, from = 0): boolean {
  for (let at = 0; at < identityLength; at += 1) {
    if (identity[at] !== all[from + at]) return false;
  }
  return true;
}
