import { mkdir, open, rename, rm, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { ownFileFlags } from './own-file.ts';

/**
 * Writes that survive a power cut: the data is on the disk, and so is the folder entry that leads to it.
 * (A rename alone is not enough: the new entry lives in the folder, which must be synced as well.)
 */

/** Makes the entries of a folder durable. Platforms that cannot open folders (Windows) skip it. */
export async function syncFolder(path: string): Promise<void> {
  if (process.platform === 'win32') return;
  const handle = await open(path, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/**
 * Replaces a file as a whole: readers see the old content or the new one, never a part. Only its owner may ever change it,
 * whatever the umask; `mode` as of POSIX.
 */
export async function writeFileDurably(
  path: string,
  content: string | Uint8Array,
  mode = 0o644,
): Promise<void> {
  const temporary = `${path}.new`;
  try {
    const handle = await open(temporary, ownFileFlags.create, mode);
    try {
      await handle.writeFile(content);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(temporary, path);
  } catch (error) {
    await rm(temporary, { force: true }).catch(() => undefined);
    throw error;
  }
  await syncFolder(dirname(path));
}

/** The same without waiting for the disk: after a power cut the file may be torn. For what is checked when read, and can be made anew. */
export async function replaceFile(path: string, content: string): Promise<void> {
  const temporary = `${path}.new`;
  try {
    await writeFile(temporary, content);
    await rename(temporary, path);
  } catch (error) {
    await rm(temporary, { force: true }).catch(() => undefined);
    throw error;
  }
}

/** Deletes a file that is replaced as a whole, and what a replacement that was cut off has left. */
export async function removeReplaced(path: string): Promise<void> {
  await rm(path, { force: true });
  await rm(`${path}.new`, { force: true });
}

/**
 * Creates a folder with the parents that are missing, each durably; one that is there stays. Node's own way of doing so
 * tells a full or read-only disk as a missing folder.
 */
export async function makeFoldersDurably(path: string): Promise<void> {
  try {
    await makeFolderDurably(path);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') return;
    if (code !== 'ENOENT' || dirname(path) === path) throw error;
    await makeFoldersDurably(dirname(path));
    await makeFolderDurably(path);
  }
}

/** Creates one folder (not its parents; fails when it is there) and makes the entry durable. */
export async function makeFolderDurably(path: string): Promise<void> {
  await mkdir(path, 0o755);
  await syncFolder(dirname(path));
}
