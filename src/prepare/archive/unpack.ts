import { err, ok, type Result } from '../../lib/result.ts';
import { readArchiveKind } from './archive-kind.ts';
import { TreeWriter, type UnpackLimits, UnpackRefusal } from './tree-writer.ts';

const unpackLimits: UnpackLimits = { entries: 100_000, bytes: 4 * 2 ** 30 };

/**
 * Unpacks a tar, tar.gz or zip archive into an empty folder. The error is a clause about the archive: what it holds
 * that may not be unpacked, or how it is damaged; the folder then holds a part of it.
 */
export async function unpack(
  archive: string,
  folder: string,
  limits: UnpackLimits = unpackLimits,
): Promise<Result<void, string>> {
  try {
    const kind = await readArchiveKind(archive);
    if (kind === null) return err('is no tar, tar.gz or zip archive');
    const tree = new TreeWriter(folder, limits);
    if (kind === 'zip') await (await import('./unpack-zip.ts')).unpackZip(archive, tree);
    else await (await import('./unpack-tar.ts')).unpackTar(archive, kind === 'tar.gz', tree);
    tree.finish();
    return ok(undefined);
  } catch (cause) {
    if (cause instanceof UnpackRefusal) return err(cause.message);
    return err(`cannot be unpacked: ${cause instanceof Error ? cause.message : String(cause)}`);
  }
}
