import { crc32 } from 'node:zlib';
import yauzl, { type Entry, type ZipFile } from 'yauzl';
import { shown, type TreeWriter, UnpackRefusal } from './tree-writer.ts';

const unixMade = 3;
const fileKind = 0o170000;
const kinds = { none: 0, file: 0o100000, folder: 0o040000, link: 0o120000 } as const;
const mostTargetBytes = 4096;

/** Unpacks a zip archive (stored or deflated, zip64). Rejects where it is damaged, encrypted or made otherwise. */
export async function unpackZip(archive: string, tree: TreeWriter): Promise<void> {
  const zip = await yauzl.openPromise(archive);
  try {
    for await (const entry of zip.eachEntry()) await addEntry(zip, entry, tree);
  } finally {
    zip.close();
  }
}

async function addEntry(zip: ZipFile, entry: Entry, tree: TreeWriter): Promise<void> {
  const { versionMadeBy, externalFileAttributes } = entry;
  const name = nameOf(entry);
  if (entry.isEncrypted()) throw new UnpackRefusal(`has an encrypted entry ${shown(name)}`);
  const mode = versionMadeBy >>> 8 === unixMade ? externalFileAttributes >>> 16 : 0;
  const kind = mode & fileKind;
  // Programs on other systems mark a folder by its name alone.
  if (name.endsWith('/')) return tree.addFolder(name);
  switch (kind) {
    case kinds.none:
    case kinds.file:
      return tree.addFile(name, (mode & 0o100) !== 0, checked(zip, entry));
    case kinds.folder:
      return tree.addFolder(name);
    case kinds.link:
      return tree.addSymbolicLink(name, await readTarget(zip, entry));
    default:
      throw new UnpackRefusal(`has a device or pipe ${shown(name)}`);
  }
}

/** Programs on Unix write names in UTF-8, often without the flag that says so (APPNOTE.TXT 4.4.4, bit 11). */
function nameOf({ fileName, fileNameRaw, versionMadeBy }: Entry): string {
  if (versionMadeBy >>> 8 !== unixMade) return fileName;
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(fileNameRaw);
  } catch {
    return fileName;
  }
}

async function* checked(zip: ZipFile, entry: Entry): AsyncGenerator<Uint8Array> {
  let sum = 0;
  for await (const part of await zip.openReadStreamPromise(entry)) {
    sum = crc32(part as Buffer, sum);
    yield part as Buffer;
  }
  if (sum !== entry.crc32)
    throw new UnpackRefusal(`is damaged: the checksum of ${shown(entry.fileName)} is wrong`);
}

async function readTarget(zip: ZipFile, entry: Entry): Promise<string> {
  if (entry.uncompressedSize > mostTargetBytes)
    throw new UnpackRefusal(`has a link ${shown(entry.fileName)} with an endless target`);
  const parts: Uint8Array[] = [];
  for await (const part of checked(zip, entry)) parts.push(part);
  return Buffer.concat(parts).toString('utf8');
}
