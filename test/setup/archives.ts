import { crc32 } from 'node:zlib';

/** Hand-made archives, hostile ones too: what well-behaved programs refuse to write. */

export interface TarEntry {
  readonly name: string;
  /** A type flag of ustar: `0` file, `1` hard link, `2` symbolic link, `3` device, `5` folder, `6` pipe. */
  readonly type?: string;
  readonly link?: string;
  readonly content?: string;
  readonly mode?: number;
}

const block = 512;

/** A POSIX ustar archive (IEEE Std 1003.1, pax: ustar interchange format), with its end mark. */
export function tarOf(entries: readonly TarEntry[]): Buffer {
  return Buffer.concat([...entries.flatMap(tarParts), Buffer.alloc(2 * block)]);
}

function tarParts({ name, type = '0', link = '', content = '', mode }: TarEntry): Buffer[] {
  const header = Buffer.alloc(block);
  const octal = (value: number, at: number, width: number) =>
    header.write(`${value.toString(8).padStart(width - 1, '0')}\0`, at);
  header.write(name, 0);
  octal(mode ?? 0o644, 100, 8);
  octal(0, 108, 8);
  octal(0, 116, 8);
  octal(content.length, 124, 12);
  octal(0, 136, 12);
  header.fill(' ', 148, 156);
  header.write(type, 156);
  header.write(link, 157);
  header.write('ustar\x0000', 257);
  const sum = header.reduce((total, byte) => total + byte, 0);
  header.write(`${sum.toString(8).padStart(6, '0')}\0 `, 148);
  const body = Buffer.alloc(Math.ceil(content.length / block) * block);
  body.write(content);
  return [header, body];
}

export interface ZipEntry {
  readonly name: string;
  readonly content?: string;
  /** Unix mode with its kind, such as 0o120777 for a link. */
  readonly mode?: number;
  /** In place of the true one. */
  readonly crc?: number;
}

/** A zip archive of stored entries, as made on Unix (APPNOTE.TXT 4.3). */
export function zipOf(entries: readonly ZipEntry[]): Buffer {
  const locals: Buffer[] = [];
  const central: Buffer[] = [];
  let offset = 0;
  for (const { name, content = '', mode = 0o100644, crc = crc32(content) } of entries) {
    const size = content.length;
    const local = Buffer.alloc(30);
    local.writeUInt32LE(0x04034b50, 0);
    local.writeUInt16LE(20, 4);
    local.writeUInt32LE(crc, 14);
    local.writeUInt32LE(size, 18);
    local.writeUInt32LE(size, 22);
    local.writeUInt16LE(name.length, 26);
    const head = Buffer.alloc(46);
    head.writeUInt32LE(0x02014b50, 0);
    head.writeUInt16LE((3 << 8) | 20, 4);
    head.writeUInt16LE(20, 6);
    head.writeUInt32LE(crc, 16);
    head.writeUInt32LE(size, 20);
    head.writeUInt32LE(size, 24);
    head.writeUInt16LE(name.length, 28);
    head.writeUInt32LE(((mode << 16) >>> 0) >>> 0, 38);
    head.writeUInt32LE(offset, 42);
    locals.push(local, Buffer.from(name + content, 'latin1'));
    central.push(head, Buffer.from(name, 'latin1'));
    offset += local.length + name.length + size;
  }
  const directory = Buffer.concat(central);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(entries.length, 8);
  end.writeUInt16LE(entries.length, 10);
  end.writeUInt32LE(directory.length, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...locals, directory, end]);
}
