import { createHash } from 'node:crypto';
import { mkdir, readFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { replaceFile } from '../../lib/durable-fs.ts';
import { isSystemError } from '../../lib/is-system-error.ts';
import { parseSummed, renderSummed } from '../../lib/summed-text.ts';
import type { SittingFigures } from '../../model/comparison-request.ts';
import { type Identity, isSameIdentity, isSettled, readIdentity } from './identity.ts';
import { type IndexPlace, indexPaths } from './index-place.ts';

/** To be raised when `SittingFigures` changes, or is derived otherwise. */
const schema = 'steadyrig/kept-figures/1';

/** What a comparison takes from a sitting, before any exclusion; the inventory stays in its file. */
export interface KeptFigures {
  readonly figures: Omit<SittingFigures, 'inventory'>;
  readonly isImported: boolean;
}

/** A sealed folder before it is verified and read, and the place for its figures. */
export interface FiguresLook {
  readonly folder: string;
  readonly path: string;
  readonly tool: string;
  readonly identity: Identity;
  /** SHA-256 of the seal's manifest: with it stand the sums of all files that figures are derived from. */
  readonly manifest: string;
  readonly atMs: number;
}

/** Null where nothing is kept: of open folders, and without a place. */
export async function lookForFigures(
  folder: string,
  place: IndexPlace | null,
): Promise<FiguresLook | null> {
  const paths = place === null ? null : indexPaths(place, dirname(resolve(folder)));
  if (place === null || paths === null) return null;
  const atMs = (place.now ?? Date.now)();
  const identity = readIdentity(folder);
  if (identity === null) return null;
  const manifest = await readQuietly(join(folder, 'manifest-sha512.txt'));
  if (manifest === null) return null;
  return {
    folder,
    path: join(paths.figures, `${basename(resolve(folder))}.json`),
    tool: place.tool,
    identity,
    manifest: createHash('sha256').update(manifest).digest('hex'),
    atMs,
  };
}

/** Null where they are not known of exactly this state of the folder. */
export async function readKeptFigures(look: FiguresLook): Promise<KeptFigures | null> {
  const bytes = await readQuietly(look.path);
  return bytes === null ? null : (parseSummed(bytes, about(look)) as KeptFigures | null);
}

/** Only for figures whose folder fitted its seal after the look. What cannot be written is not kept. */
export async function keepFigures(look: FiguresLook, kept: KeptFigures): Promise<void> {
  const after = readIdentity(look.folder);
  if (after === null || !isSameIdentity(after, look.identity)) return;
  if (!isSettled(look.identity, look.atMs)) return;
  try {
    await mkdir(dirname(look.path), { recursive: true });
    await replaceFile(look.path, renderSummed(about(look), kept));
  } catch (error) {
    if (!isSystemError(error)) throw error;
  }
}

function about({ tool, path, identity, manifest }: FiguresLook): object {
  return { schema, tool, sitting: basename(path, '.json'), identity, manifest };
}

async function readQuietly(path: string): Promise<Buffer | null> {
  try {
    return await readFile(path);
  } catch {
    return null;
  }
}
