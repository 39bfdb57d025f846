import { constants, readFile as readFileCallback } from 'node:fs';
import { readdir, readlink, realpath } from 'node:fs/promises';
import { dirname, join, sep } from 'node:path';
import { promisify } from 'node:util';
import PQueue from 'p-queue';

const readFile = promisify(readFileCallback);

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
const mostLength = 8 * 1024 * 1024;

// A server has ten thousand files of interest: opened all at once they would exceed the limit on open files.
const mostOpen = 16;

// Not to wait for the other end of a named pipe: nothing under the mount point may hold up the inventory. As a
// number, which Node takes and its types do not know of.
const openFlags = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0);

/** Files under a mount point: `/` on a real rig, a folder in tests. A link that leads out of it is `ENOENT`. */
export function rigFiles(root: string): RigFiles {
  const queue = new PQueue({ concurrency: mostOpen });
  let base: Promise<string> | undefined;
  const inside = async (path: string) => {
    if (root === '/') return path;
    base ??= realpath(root);
    return placeBelow(await base, path);
  };
  return {
    readText: (path) => queue.add(async () => readBounded(await inside(path))),
    list: async (path) => (await readdir(await inside(path))).sort(byNumber),
    readLink: async (path) =>
      readlink(join(await inside(dirname(path)), path.slice(path.lastIndexOf('/') + 1))),
  };
}

async function placeBelow(base: string, path: string): Promise<string> {
  const real = await realpath(join(base, path));
  if (real === base || real.startsWith(base + sep)) return real;
  throw Object.assign(new Error(`${path} leads out of the mount point`), { code: 'ENOENT' });
}

async function readBounded(place: string): Promise<string> {
  // Half the time of a FileHandle, and there may be ten thousand of these.
  const text = await readFile(place, { encoding: 'utf8', flag: openFlags as unknown as string });
  if (text.length <= mostLength) return text;
  throw Object.assign(new Error(`more than ${mostLength} characters`), { code: 'EFBIG' });
}

const collator = new Intl.Collator('en', { numeric: true });

/** Order in which `cpu2` comes before `cpu10`, the same in every locale. */
export function byNumber(a: string, b: string): number {
  return collator.compare(a, b) || (a < b ? -1 : Number(a > b));
}
