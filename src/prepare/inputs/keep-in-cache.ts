import { randomBytes } from 'node:crypto';
import { lstat, mkdir, readdir, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { syncFolder } from '../../lib/durable-fs.ts';
import { hashFile } from '../../lib/hash-file.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import { hashTree } from './hash-tree.ts';
import { type KeptSum, readSum, writeSum } from './kept-sum.ts';

export interface Kept {
  readonly sum: KeptSum;
  /** `again`: what was in the cache was not what had been put there. */
  readonly how: 'found' | 'made' | 'made-again';
}

/**
 * A file or folder of the cache, checked against what is known of it, and made when it is not there or no longer what
 * it was. `make` writes it under another name in the same folder and gives its size and sum. The error is a clause.
 */
export async function keepInCache(
  path: string,
  make: (temporary: string) => Promise<Result<KeptSum, string>>,
): Promise<Result<Kept, string>> {
  const temporary = `${path}.${randomBytes(4).toString('hex')}.new`;
  try {
    const found = await readKept(path);
    if (found === 'intact') {
      const sum = await readSum(path);
      if (sum !== null) return ok({ sum, how: 'found' });
    }
    await mkdir(dirname(path), { recursive: true, mode: 0o755 });
    await removeStale(dirname(path));
    await rm(path, { recursive: true, force: true });
    const made = await make(temporary);
    if (!made.ok) return made;
    // The sum first: whatever has its final name has its sum beside it.
    await writeSum(path, made.value);
    await rename(temporary, path);
    await syncFolder(dirname(path));
    return ok({ sum: made.value, how: found === 'absent' ? 'made' : 'made-again' });
  } catch (cause) {
    return err(
      `cannot be kept in ${dirname(path)}: ${cause instanceof Error ? cause.message : cause}`,
    );
  } finally {
    await rm(temporary, { recursive: true, force: true }).catch(() => undefined);
  }
}

const staleMilliseconds = 86_400_000;

/** What a killed sitting left half made. Another machine may share the home folder, so younger ones are left alone. */
async function removeStale(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    if (!name.endsWith('.new')) continue;
    const path = join(folder, name);
    const facts = await lstat(path).catch(() => null);
    const isStale = facts !== null && Date.now() - facts.mtimeMs > staleMilliseconds;
    if (isStale) await rm(path, { recursive: true, force: true });
  }
}

async function readKept(path: string): Promise<'absent' | 'damaged' | 'intact'> {
  const facts = await lstat(path).catch(() => null);
  if (facts === null) return 'absent';
  const wanted = await readSum(path);
  if (wanted === null) return 'damaged';
  if (facts.isDirectory()) return isSame(await hashTree(path), wanted) ? 'intact' : 'damaged';
  if (!facts.isFile() || facts.size !== wanted.size) return 'damaged';
  const { bytes: size, sha256 } = await hashFile(path);
  return isSame({ size, sha256 }, wanted) ? 'intact' : 'damaged';
}

function isSame(one: KeptSum, other: KeptSum): boolean {
  return one.size === other.size && one.sha256 === other.sha256;
}
