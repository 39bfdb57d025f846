import { execFile } from 'node:child_process';
import { createReadStream } from 'node:fs';
import { readdir, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { err, ok, type Result } from '../lib/result.ts';

const partBytes = 2 ** 20;
/** Kernel documentation, admin-guide/sysctl/vm.rst: 3 drops the page cache and, with it, what is known of folders. */
const dropAll = '3\n';
const dropCachesPath = '/proc/sys/vm/drop_caches';

/**
 * Brings the page cache into a state before a run. `warm`: every input (of a folder, every file in it) is read once.
 * `cold`: what waits to be written is written, then all that is cached is dropped, the programs themselves included;
 * needs root. The error says what could not be done.
 */
export async function preparePageCache(
  state: 'warm' | 'cold' | null,
  inputs: readonly string[],
): Promise<Result<null, string>> {
  try {
    if (state === 'warm') for (const path of inputs) await readAll(path);
    if (state === 'cold') await dropCaches();
    return ok(null);
  } catch (error) {
    return err(`the page cache could not be made ${state}: ${(error as Error).message}`);
  }
}

async function readAll(path: string): Promise<void> {
  const facts = await stat(path);
  if (facts.isFile()) return readFile(path);
  if (!facts.isDirectory()) throw new Error(`${path} is neither a file nor a folder`);
  const entries = await readdir(path, { withFileTypes: true, recursive: true });
  for (const entry of entries) {
    // A link inside leads to a file that is read by itself, or out of the folder.
    if (entry.isFile()) await readFile(join(entry.parentPath, entry.name));
  }
}

async function readFile(path: string): Promise<void> {
  const source = createReadStream(path, { highWaterMark: partBytes });
  for await (const part of source) void part;
}

async function dropCaches(): Promise<void> {
  // Only clean pages are dropped.
  await promisify(execFile)('sync');
  await writeFile(dropCachesPath, dropAll, { flag: 'w' });
}
