import { execFileSync } from 'node:child_process';
import {
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import type { UnpackLimits } from '../../../../src/prepare/archive/tree-writer.ts';
import { unpack } from '../../../../src/prepare/archive/unpack.ts';
import { hashTree } from '../../../../src/prepare/inputs/hash-tree.ts';
import { type TarEntry, tarOf, type ZipEntry, zipOf } from '../../../setup/archives.ts';
import { needs } from '../../../setup/needs.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';

interface Unpacked {
  readonly fault: string | null;
  /** Where it was to be unpacked. */
  readonly folder: string;
  /** Everything beside that folder and the archive. */
  readonly beside: readonly string[];
}

async function unpackBytes(bytes: Uint8Array, limits?: UnpackLimits): Promise<Unpacked> {
  const around = temporaryFolder();
  const archive = join(around, 'archive');
  const folder = join(around, 'unpacked');
  writeFileSync(archive, bytes);
  mkdirSync(folder);
  const result = await unpack(archive, folder, limits);
  const beside = readdirSync(around).filter((name) => !['archive', 'unpacked'].includes(name));
  return { fault: result.ok ? null : result.error, folder, beside };
}

const hostileTars: Readonly<Record<string, readonly [entries: readonly TarEntry[], why: string]>> =
  {
    'a name that leads upwards': [[{ name: '../evil', content: 'x' }], 'leads upwards'],
    'a name that leads upwards further in': [[{ name: 'a/../../evil' }], 'leads upwards'],
    'an absolute name': [[{ name: '/tmp/steadyrig-evil', content: 'x' }], 'absolute path'],
    'a link that leads out': [[{ name: 'out', type: '2', link: '../evil' }], 'leads out'],
    'an absolute link': [[{ name: 'out', type: '2', link: '/etc' }], 'leads out'],
    'links that lead out together': [
      [
        { name: 'p/q/up', type: '2', link: '../..' },
        { name: 'out', type: '2', link: 'p/q/up/..' },
      ],
      'leads out',
    ],
    'a file written through a link': [
      [
        { name: 'out', type: '2', link: '..' },
        { name: 'out/evil', content: 'x' },
      ],
      'which is no folder',
    ],
    'a link in place of a folder': [
      [
        { name: 'a/file', content: 'x' },
        { name: 'a', type: '2', link: '..' },
      ],
      'also a folder',
    ],
    'a hard link that leads out': [[{ name: 'a', type: '1', link: '../archive' }], 'leads upwards'],
    'an absolute hard link': [[{ name: 'a', type: '1', link: '/etc/hostname' }], 'absolute path'],
    'a hard link to a symbolic one': [
      [
        { name: 'out', type: '2', link: '/etc/hostname' },
        { name: 'a', type: '1', link: 'out' },
      ],
      'no file before it',
    ],
    'a hard link to itself': [
      [
        { name: 'a', content: 'x' },
        { name: './a', type: '1', link: 'a' },
      ],
      'to itself',
    ],
    'a device': [[{ name: 'dev', type: '3' }], 'device or pipe'],
    'a pipe': [[{ name: 'pipe', type: '6' }], 'device or pipe'],
  };

describe('a hostile tar archive', () => {
  it.each(Object.entries(hostileTars))('with %s is refused', async (_, [entries, why]) => {
    for (const bytes of [tarOf(entries), gzipSync(tarOf(entries))]) {
      const { fault, beside } = await unpackBytes(bytes);
      expect(fault).toContain(why);
      expect(beside).toEqual([]);
      expect(existsSync('/tmp/steadyrig-evil')).toBe(false);
    }
  });

  it('is refused by its first file or byte too many', async () => {
    const three = tarOf([
      { name: 'a/b', content: '12345' },
      { name: 'c', content: '678' },
    ]);
    const within = await unpackBytes(three, { entries: 3, bytes: 8 });
    expect(within.fault).toBeNull();
    const files = await unpackBytes(three, { entries: 2, bytes: 8 });
    expect(files.fault).toBe('holds more than 2 files');
    const bytes = await unpackBytes(three, { entries: 3, bytes: 7 });
    expect(bytes.fault).toBe('holds more than 7 bytes');
  });

  it('cannot fill the disk from a few bytes', async () => {
    const bomb = gzipSync(tarOf([{ name: 'zeros', content: '\0'.repeat(2 ** 24) }]));
    expect(bomb.length).toBeLessThan(2 ** 15);
    const { fault, folder } = await unpackBytes(bomb, { entries: 10, bytes: 2 ** 20 });
    expect(fault).toBe('holds more than 1048576 bytes');
    expect(statSync(join(folder, 'zeros')).size).toBeLessThanOrEqual(2 ** 20);
  });

  it('cut off anywhere is refused', async () => {
    const whole = tarOf([
      { name: 'a', content: 'x'.repeat(700) },
      { name: 'b', content: 'y' },
    ]);
    const packed = gzipSync(whole);
    expect((await unpackBytes(whole)).fault).toBeNull();
    // Within a header, within a file, between two entries, before the end mark; and at the end of a gzip stream.
    for (const length of [600, 1000, 1536, 2560])
      expect((await unpackBytes(whole.subarray(0, length))).fault, `${length}`).not.toBeNull();
    for (const length of [packed.length - 1, packed.length - 9, 40])
      expect((await unpackBytes(packed.subarray(0, length))).fault, `${length}`).not.toBeNull();
  });

  it('with a damaged header is refused', async () => {
    const bytes = tarOf([
      { name: 'a', content: 'x' },
      { name: 'b', content: 'y' },
    ]);
    bytes[1024] = 0x7a;
    expect((await unpackBytes(bytes)).fault).toContain('checksum');
  });
});

const hostileZips: Readonly<Record<string, readonly [entries: readonly ZipEntry[], why: string]>> =
  {
    'a name that leads upwards': [[{ name: '../evil', content: 'x' }], 'invalid relative path'],
    'a name that leads upwards by backslashes': [[{ name: '..\\evil' }], 'invalid relative path'],
    'an absolute name': [[{ name: '/tmp/steadyrig-evil' }], 'absolute path'],
    'a link that leads out': [[{ name: 'out', content: '../evil', mode: 0o120777 }], 'leads out'],
    'a file written through a link': [
      [
        { name: 'out', content: '..', mode: 0o120777 },
        { name: 'out/evil', content: 'x' },
      ],
      'which is no folder',
    ],
    'a link without end': [
      [{ name: 'out', content: 'a/'.repeat(4000), mode: 0o120777 }],
      'endless',
    ],
    'a device': [[{ name: 'dev', mode: 0o020644 }], 'device or pipe'],
    'a wrong checksum': [[{ name: 'a', content: 'x', crc: 1 }], 'checksum of "a" is wrong'],
  };

describe('a hostile zip archive', () => {
  it.each(Object.entries(hostileZips))('with %s is refused', async (_, [entries, why]) => {
    const { fault, beside } = await unpackBytes(zipOf(entries));
    expect(fault).toContain(why);
    expect(beside).toEqual([]);
  });

  it('is refused by its limits, and when cut off', async () => {
    const bytes = zipOf([
      { name: 'a', content: '12345' },
      { name: 'b', content: '678' },
    ]);
    expect((await unpackBytes(bytes, { entries: 2, bytes: 8 })).fault).toBeNull();
    expect((await unpackBytes(bytes, { entries: 1, bytes: 8 })).fault).toContain(
      'more than 1 files',
    );
    expect((await unpackBytes(bytes, { entries: 2, bytes: 7 })).fault).toContain('than 7 bytes');
    for (const length of [bytes.length - 1, bytes.length - 30, 40])
      expect((await unpackBytes(bytes.subarray(0, length))).fault).not.toBeNull();
  });

  const python = needs.program('python3');
  it.skipIf(python.missing)(
    'that claims less than it holds is refused (python3 zipfile)',
    async () => {
      const path = join(temporaryFolder(), 'bomb.zip');
      const script = `import zipfile,sys
with zipfile.ZipFile(sys.argv[1],'w',zipfile.ZIP_DEFLATED) as z: z.writestr('zeros', b'\\0'*2**24)`;
      execFileSync(python.path, ['-c', script, path]);
      const honest = await unpackBytes(readFileSync(path), { entries: 9, bytes: 2 ** 20 });
      expect(honest.fault).toBe('holds more than 1048576 bytes');
      const lying = readFileSync(path);
      lying.writeUInt32LE(10, lying.indexOf('PK\x01\x02') + 24);
      expect((await unpackBytes(lying, { entries: 9, bytes: 2 ** 20 })).fault).not.toBeNull();
    },
  );
});

describe('an archive', () => {
  it('of another kind is refused by what it holds, whatever its name', async () => {
    for (const bytes of [Buffer.from('hello'), Buffer.alloc(2048), Buffer.alloc(0)])
      expect((await unpackBytes(bytes)).fault).toBe('is no tar, tar.gz or zip archive');
  });

  it('gives read-only files that keep what may be executed', async () => {
    const { folder, fault } = await unpackBytes(
      tarOf([
        { name: 'tool', content: '#!/bin/sh\n', mode: 0o4755 },
        { name: 'data', content: 'x', mode: 0o666 },
        { name: 'data', content: 'later', mode: 0o666 },
        { name: 'same', type: '1', link: './data' },
        { name: 'sub/', type: '5', mode: 0o700 },
        { name: 'sub/link', type: '2', link: '../data' },
      ]),
    );
    expect(fault).toBeNull();
    const modeOf = (name: string): number => lstatSync(join(folder, name)).mode & 0o7777;
    expect([modeOf('tool'), modeOf('data'), modeOf('sub')]).toEqual([0o555, 0o444, 0o755]);
    expect(readFileSync(join(folder, 'data'), 'utf8')).toBe('later');
    expect(readFileSync(join(folder, 'same'), 'utf8')).toBe('later');
    expect(readlinkSync(join(folder, 'sub/link'))).toBe('../data');
  });
});

/** A folder with what archives of source code hold: depth, long names, links, empty files, other alphabets. */
function sampleTree(): string {
  const folder = join(temporaryFolder(), 'tree');
  const long = 'a-rather-long-name-'.repeat(7);
  mkdirSync(join(folder, 'src', long, long), { recursive: true });
  mkdirSync(join(folder, 'empty'));
  writeFileSync(join(folder, 'src', long, long, `${long}.c`), 'int x;\n');
  writeFileSync(join(folder, 'src', 'größe, Ω.txt'), 'umlauts\n');
  writeFileSync(join(folder, 'nothing'), '');
  writeFileSync(join(folder, 'configure'), '#!/bin/sh\n', { mode: 0o755 });
  writeFileSync(join(folder, 'big'), Buffer.alloc(3 * 2 ** 20, 'harbour lane '));
  symlinkSync('src', join(folder, 'link'));
  symlinkSync('../big', join(folder, 'src', 'up'));
  return folder;
}

const tar = needs.program('tar');
const zip = needs.program('zip');
const unzip = needs.program('unzip');

describe('an archive made by a known program', () => {
  it.skipIf(tar.missing).each(['ustar', 'pax', 'gnu', 'v7'])(
    'is unpacked as that program does: GNU tar, format %s',
    async (format) => {
      const tree = sampleTree();
      const args = ['-C', tree, `--format=${format}`];
      // The old format has no long names.
      const exclude = format === 'v7' || format === 'ustar' ? ['--exclude=a-rather*'] : [];
      const theirs = temporaryFolder();
      for (const compress of [[], ['-z']]) {
        const archive = join(temporaryFolder(), 'tree.tar');
        execFileSync(tar.path, [...args, ...exclude, ...compress, '-cf', archive, '.']);
        execFileSync(tar.path, ['-C', theirs, '-xf', archive]);
        const ours = await unpackBytes(readFileSync(archive));
        // Format v7 has no magic word: it is refused rather than guessed.
        if (format === 'v7' && compress.length === 0)
          expect(ours.fault).toBe('is no tar, tar.gz or zip archive');
        else {
          expect(ours.fault).toBeNull();
          expect(await hashTree(ours.folder)).toEqual(await hashTree(theirs));
        }
      }
    },
  );

  it.skipIf(zip.missing || unzip.missing)('is unpacked as that program does: zip', async () => {
    const tree = sampleTree();
    const archive = join(temporaryFolder(), 'tree.zip');
    execFileSync(zip.path, ['-q', '-r', '-y', archive, '.'], { cwd: tree });
    const theirs = temporaryFolder();
    execFileSync(unzip.path, ['-q', archive, '-d', theirs], {
      env: { ...process.env, LC_ALL: 'C.UTF-8' },
    });
    const ours = await unpackBytes(readFileSync(archive));
    expect(ours.fault).toBeNull();
    expect(await hashTree(ours.folder)).toEqual(await hashTree(theirs));
  });
});
