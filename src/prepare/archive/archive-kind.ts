import { open } from 'node:fs/promises';

export type ArchiveKind = 'tar' | 'tar.gz' | 'zip';

/** By its first bytes, not by its name; null for anything else. Rejects where it cannot be read. */
export async function readArchiveKind(path: string): Promise<ArchiveKind | null> {
  const handle = await open(path, 'r');
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(512), 0, 512, 0);
    const head = buffer.subarray(0, bytesRead).toString('latin1');
    if (head.startsWith('\x1f\x8b')) return 'tar.gz';
    // An empty zip archive is nothing but its end record.
    if (head.startsWith('PK\x03\x04') || head.startsWith('PK\x05\x06')) return 'zip';
    return head.startsWith('ustar', 257) ? 'tar' : null;
  } finally {
    await handle.close();
  }
}
