import { createHash } from 'node:crypto';
import { existsSync, realpathSync } from 'node:fs';
import { open, readdir, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { type IndexOrigin, indexedFolder } from './index-file.ts';

/** Where indexes are kept: a folder of the user's cache, never the results folder. */
export interface IndexPlace {
  /** It holds a folder for each results folder. */
  readonly folder: string;
  /** Version of the tool. */
  readonly tool: string;
  /** Milliseconds since 1970. Default: the clock of the machine. */
  readonly now?: () => number;
  /** Sittings that are worth an index; fewer are read as quickly as it. Default 32. */
  readonly fewest?: number;
}

/** The parts of one index. */
export interface IndexPaths {
  readonly folder: string;
  readonly sittings: string;
  /** A file for each sitting. */
  readonly figures: string;
  /** Database of all runs. */
  readonly runs: string;
  readonly origin: IndexOrigin;
}

export function isWorthIndexing(sittings: number, { fewest = 32 }: IndexPlace): boolean {
  return sittings >= fewest;
}

/** Null where the results folder is not there. */
export function indexPaths({ folder, tool }: IndexPlace, results: string): IndexPaths | null {
  let real: string;
  try {
    real = realpathSync(results);
  } catch {
    return null;
  }
  const own = join(folder, createHash('sha256').update(real).digest('hex').slice(0, 16));
  return {
    folder: own,
    sittings: join(own, sittingsFile),
    figures: join(own, 'figures'),
    runs: join(own, 'runs.duckdb'),
    origin: { results: real, tool },
  };
}

const sittingsFile = 'sittings.jsonl';

/** Removes indexes of results folders that are not there any more. One on a disk that is away for now is made anew later. */
export async function pruneIndexes(place: string): Promise<void> {
  for (const name of await readdir(place)) {
    if (!/^[0-9a-f]{16}$/.test(name)) continue;
    const path = join(place, name, sittingsFile);
    const results = existsSync(path) ? indexedFolder(await firstLine(path)) : null;
    if (results !== null && !existsSync(results))
      await rm(dirname(path), { recursive: true, force: true });
  }
}

/** As much of it as a path can be long, and more. */
async function firstLine(path: string): Promise<string> {
  const handle = await open(path, 'r');
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(16_384), 0, 16_384, 0);
    return buffer.toString('utf8', 0, bytesRead).split('\n', 1)[0] ?? '';
  } finally {
    await handle.close();
  }
}
