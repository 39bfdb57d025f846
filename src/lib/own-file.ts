import { constants, type Stats } from 'node:fs';
import { lstat, open } from 'node:fs/promises';

// Absent on Windows, where making links is a privilege.
const unfollowing = constants.O_NOFOLLOW ?? 0;

/**
 * Flags to open what the tool itself wrote: results come from others too, and a link among them would bring in, or overwrite,
 * what lies elsewhere. Opening a link fails with ELOOP. Only the last part of a path is looked at.
 */
export const ownFileFlags: Readonly<Record<'read' | 'append' | 'create' | 'change', number>> = {
  /** Not waiting on a pipe that stands there; for regular files the second flag means nothing. */
  read: constants.O_RDONLY | unfollowing | (constants.O_NONBLOCK ?? 0),
  append: constants.O_RDWR | constants.O_CREAT | constants.O_APPEND | unfollowing,
  create: constants.O_WRONLY | constants.O_CREAT | constants.O_TRUNC | unfollowing,
  change: constants.O_RDWR | unfollowing,
};

/** Of records that are one JSON value; the largest seen has some MiB. */
const mostRecordBytes = 64 * 2 ** 20;
/** Of files that grow by a line for each run or sample. */
export const mostLinesBytes: number = 2 ** 30;

/**
 * A whole file of a result folder. Rejects with a system error for `reasonOf`: ELOOP for a link, ENXIO for what is no regular
 * file, EFBIG beyond `mostBytes`.
 */
export async function readOwnFile(
  path: string,
  mostBytes: number = mostRecordBytes,
): Promise<Buffer> {
  const file = await open(path, ownFileFlags.read);
  try {
    check(await file.stat(), path, mostBytes);
    return await file.readFile();
  } finally {
    await file.close();
  }
}

/** The same without reading, for what is read in pieces afterwards. */
export async function checkOwnFile(path: string, mostBytes: number): Promise<void> {
  const status = await lstat(path);
  if (status.isSymbolicLink()) throw fault('ELOOP', `${path} is a symbolic link`);
  check(status, path, mostBytes);
}

function check(status: Stats, path: string, mostBytes: number): void {
  if (status.isDirectory()) throw fault('EISDIR', `${path} is a folder`);
  if (!status.isFile()) throw fault('ENXIO', `${path} is no regular file`);
  if (status.size > mostBytes) throw fault('EFBIG', `${path} has more than ${mostBytes} bytes`);
}

function fault(code: string, message: string): NodeJS.ErrnoException {
  return Object.assign(new Error(message), { code, syscall: 'open' });
}
