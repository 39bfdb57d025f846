import { constants } from 'node:fs';
import { open, readdir, readlink, realpath } from 'node:fs/promises';
import { dirname, join, sep } from 'node:path';

/**
 * The kernel's files of one rig, by the paths they have on it (`/proc/cpuinfo`). Failures reject with the system's
 * error code; tests put their own in to bring about the errors that a root user never meets.
 */
export interface RigFiles {
  readText(path: string): Promise<string>;
  /** Names, numbers in them in order of size: `cpu2` before `cpu10`. */
  list(path: string): Promise<readonly string[]>;
  /** Target as written in the link. */
  readLink(path: string): Promise<string>;
}

/** /proc/cpuinfo of a machine with 1,024 CPUs has less; what has more is not a kernel file. */
const mostBytes = 8 * 1024 * 1024;

// Not to wait for the other end of a named pipe: nothing under the mount point may hold up the inventory.
const openFlags = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0);

/** Files under a mount point: `/` on a real rig, a folder in tests. A link that leads out of it is `ENOENT`. */
export function rigFiles(root: string): RigFiles {
  return {
    readText: async (path) => readBounded(await inside(root, path)),
    list: async (path) => (await readdir(await inside(root, path))).sort(byNumber),
    readLink: async (path) =>
      readlink(join(await inside(root, dirname(path)), path.slice(path.lastIndexOf('/') + 1))),
  };
}

async function inside(root: string, path: string): Promise<string> {
  const place = join(root, path);
  if (root === '/') return place;
  const base = await realpath(root);
  const real = await realpath(place);
  if (real === base || real.startsWith(base + sep)) return real;
  throw Object.assign(new Error(`${path} leads out of the mount point`), { code: 'ENOENT' });
}

// Kernel files give their size as 0 or 4096, whatever they hold: read until the end.
async function readBounded(place: string): Promise<string> {
  const file = await open(place, openFlags);
  try {
    const chunks: Buffer[] = [];
    let total = 0;
    for (;;) {
      const { bytesRead, buffer } = await file.read(Buffer.allocUnsafe(65_536), 0, 65_536, null);
      if (bytesRead === 0) return Buffer.concat(chunks).toString('utf8');
      total += bytesRead;
      if (total > mostBytes)
        throw Object.assign(new Error(`more than ${mostBytes} bytes`), { code: 'EFBIG' });
      chunks.push(buffer.subarray(0, bytesRead));
    }
  } finally {
    await file.close();
  }
}

const collator = new Intl.Collator('en', { numeric: true });

/** Order in which `cpu2` comes before `cpu10`, the same in every locale. */
export function byNumber(a: string, b: string): number {
  return collator.compare(a, b) || (a < b ? -1 : Number(a > b));
}
