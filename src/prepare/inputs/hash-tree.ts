import { createHash, type Hash } from 'node:crypto';
import { lstat, readdir, readlink } from 'node:fs/promises';
import { join } from 'node:path';
import { hashFile } from '../../lib/hash-file.ts';
import type { KeptSum } from './kept-sum.ts';

/** SHA-256 over all that lies in a folder: names, kinds, contents, targets of links, and what may be executed. */
export async function hashTree(folder: string): Promise<KeptSum> {
  const hash = createHash('sha256');
  const size = await addFolder(hash, folder, '');
  return { size, sha256: hash.digest('hex') };
}

async function addFolder(hash: Hash, root: string, path: string): Promise<number> {
  let count = 0;
  for (const name of (await readdir(join(root, path))).sort()) {
    const at = join(path, name);
    const facts = await lstat(join(root, at));
    hash.update(`${JSON.stringify([at, ...(await describe(join(root, at), facts))])}\n`);
    count += facts.isDirectory() ? await addFolder(hash, root, at) : 1;
  }
  return count;
}

async function describe(
  path: string,
  facts: Awaited<ReturnType<typeof lstat>>,
): Promise<readonly (string | boolean)[]> {
  if (facts.isDirectory()) return ['folder'];
  if (facts.isSymbolicLink()) return ['link', await readlink(path)];
  if (!facts.isFile()) return ['other'];
  return ['file', (await hashFile(path)).sha256, (Number(facts.mode) & 0o100) !== 0];
}
