import { existsSync } from 'node:fs';
import { readFile, rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { isSystemError } from '../../lib/is-system-error.ts';
import type { RunCounts, SittingHeader } from '../../model/sitting-entry.ts';
import { type Identity, isSameIdentity, isSettled, readIdentity } from './identity.ts';
import {
  type IndexedSitting,
  type IndexedSittings,
  parseIndex,
  renderIndex,
} from './index-file.ts';
import {
  type IndexPaths,
  type IndexPlace,
  indexPaths,
  isWorthIndexing,
  pruneIndexes,
} from './index-place.ts';

/** A sitting's folder as it stands now. */
export interface FolderLook {
  /** Null: not sealed, so nothing may be kept of it. */
  readonly identity: Identity | null;
  /** Before the look. */
  readonly atMs: number;
  /** What the index knows of exactly this state; null where it has to be read. */
  readonly header: SittingHeader | null;
  readonly counts: RunCounts | null;
}

/**
 * What was found in the sealed folders of a results folder by earlier commands. Never the truth: it is asked by the identity of each
 * folder, and what it does not know is read. Whatever is wrong with it (damaged, absent, no rights, a full disk), the answers are those
 * of the folders.
 */
export class ResultsIndex {
  readonly #results: string;
  readonly #place: IndexPlace | null;
  readonly #paths: IndexPaths | null;
  readonly #known: Map<string, IndexedSitting>;
  #isChanged = false;

  private constructor(
    results: string,
    place: IndexPlace | null,
    paths: IndexPaths | null,
    known: IndexedSittings,
  ) {
    this.#results = results;
    this.#place = place;
    this.#paths = paths;
    this.#known = new Map(known);
  }

  /** `place` null: knows nothing and keeps nothing. */
  static async open(results: string, place: IndexPlace | null): Promise<ResultsIndex> {
    const paths = place === null ? null : indexPaths(place, results);
    const known = paths === null ? null : await readIndex(paths);
    return new ResultsIndex(results, place, paths, known ?? new Map());
  }

  look(name: string): FolderLook {
    const atMs = (this.#place?.now ?? Date.now)();
    const folder = join(this.#results, name);
    const identity = this.#paths === null ? null : readIdentity(folder);
    const known = identity === null ? undefined : this.#known.get(name);
    if (identity === null || known === undefined || !isSameIdentity(identity, known.identity))
      return { identity, atMs, header: null, counts: null };
    return { identity, atMs, header: { folder, ...known.header }, counts: known.counts };
  }

  /** What was read after `look`, of a folder that must not have changed meanwhile. */
  note(name: string, look: FolderLook, found: SittingHeader, counts: RunCounts | null): void {
    const { identity, atMs } = look;
    if (identity === null || !isSettled(identity, atMs)) return;
    const after = readIdentity(join(this.#results, name));
    if (after === null || !isSameIdentity(after, identity)) return;
    const { folder: _, ...header } = found;
    this.#known.set(name, { identity, header, counts });
    this.#isChanged = true;
  }

  /**
   * Writes what was noted for those who come later, as far as it can be. `names` are all folders there are; what is gone is
   * forgotten. While another process writes it, nothing is.
   */
  async keep(names: readonly string[]): Promise<void> {
    const present = new Set(names);
    const gone = [...this.#known.keys()].filter((name) => !present.has(name));
    for (const name of gone) this.#isChanged = this.#known.delete(name);
    if (this.#paths === null || this.#place === null || !this.#isChanged) return;
    if (!isWorthIndexing(this.#known.size, this.#place)) return;
    const content = renderIndex(this.#known, this.#paths.origin);
    try {
      await writeIndex(this.#paths, content, gone);
      this.#isChanged = false;
    } catch (error) {
      if (!isSystemError(error)) throw error;
    }
  }
}

async function readIndex({ sittings, origin }: IndexPaths): Promise<IndexedSittings | null> {
  try {
    return parseIndex(await readFile(sittings), origin);
  } catch (error) {
    if (isSystemError(error)) return null;
    throw error;
  }
}

/** Loaded here: a list that needs no writing needs none of it. */
async function writeIndex(
  paths: IndexPaths,
  content: string,
  gone: readonly string[],
): Promise<void> {
  const { makeFoldersDurably, writeFileDurably } = await import('../../lib/durable-fs.ts');
  const { lockMachine } = await import('../../lib/machine-lock.ts');
  const lock = await lockMachine(`steadyrig-index-${basename(paths.folder)}`, `${process.pid}`);
  if (!lock.ok) return;
  try {
    const isNew = !existsSync(paths.folder);
    await makeFoldersDurably(paths.folder);
    await writeFileDurably(paths.sittings, content);
    for (const name of gone) await rm(join(paths.figures, `${name}.json`), { force: true });
    if (isNew) await pruneIndexes(dirname(paths.folder));
  } finally {
    await lock.value.release();
  }
}
