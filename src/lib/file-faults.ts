import type { Stats } from 'node:fs';

/** What is there in place of a file, with its article. */
export function kindOf(status: Stats): string {
  if (status.isDirectory()) return 'a folder';
  if (status.isFIFO()) return 'a named pipe';
  if (status.isSocket()) return 'a socket';
  return status.isFile() ? 'a file' : 'a device';
}

const reasons: Readonly<Record<string, string>> = {
  ENOENT: 'no such file',
  EACCES: 'not permitted',
  EPERM: 'not permitted',
  ENOTDIR: 'a part of the path is no folder',
  ELOOP: 'a symbolic link where none is followed, or some that lead in a circle',
  ENAMETOOLONG: 'the name is too long',
  EISDIR: 'it is a folder',
  EFBIG: 'it is larger than such a file can be',
  ENXIO: 'it is a socket or a pipe',
};

/** Why the system refused, in words where the code is a common one. */
export function reasonOf(cause: unknown): string {
  const code = cause instanceof Error && 'code' in cause ? String(cause.code) : 'unknown';
  return reasons[code] ?? code;
}
