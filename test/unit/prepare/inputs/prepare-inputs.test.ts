import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  unlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { GeneratedInput, Input } from '../../../../src/model/suite.ts';
import { lookAtInputs } from '../../../../src/prepare/inputs/look-at-inputs.ts';
import { prepareInputs } from '../../../../src/prepare/inputs/prepare-inputs.ts';
import { tarOf } from '../../../setup/archives.ts';
import { needs } from '../../../setup/needs.ts';
import { sampleSuite, sampleWorkload } from '../../../setup/samples.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';
import { unwrap } from '../../../setup/unwrap.ts';

const script = fileURLToPath(new URL('../../../../dist/workloads/generate.js', import.meta.url));

const generator = {
  node: process.execPath,
  script,
  environment: {},
  stop: new AbortController().signal,
};

const sha256 = (bytes: Uint8Array | string): string =>
  createHash('sha256').update(bytes).digest('hex');

const text: GeneratedInput = {
  kind: 'generated',
  content: 'text',
  sizeBytes: 100_000,
  seed: 4,
  sha256: null,
};

/** A folder with a suite's files and a cache, and how its inputs are looked at and prepared. */
function bench() {
  const folder = temporaryFolder();
  const cache = join(folder, 'cache');
  const look = (...inputs: readonly Input[]) => {
    const [first, ...rest] = inputs.map((input, index) =>
      sampleWorkload({ id: `w${index}`, inputs: { in: input } }),
    );
    if (first === undefined) throw new Error('no input');
    return lookAtInputs(sampleSuite({ workloads: [first, ...rest] }), { folder, cache });
  };
  const prepare = async (...inputs: readonly Input[]) =>
    prepareInputs(await look(...inputs), generator);
  return { folder, cache, look, prepare };
}

/** Makes a file of the cache writable, as only somebody who means to would. */
function overwrite(path: string, content: string): void {
  chmodSync(path, 0o644);
  writeFileSync(path, content);
}

describe('a file of the user', () => {
  const file = (path: string, sum: string | null = null): Input => ({
    kind: 'file',
    path,
    sha256: sum,
  });

  it('is used in its place, with its size and sum', async () => {
    const { folder, prepare, cache } = bench();
    writeFileSync(join(folder, 'parts'), 'abc');
    // SHA-256 of "abc": FIPS 180-4, example of the one-block message.
    const known = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';
    const own = { path: join(folder, 'parts'), bytes: 3, sha256: known, name: 'in' };
    const { inputs } = unwrap(await prepare(file('parts', known), file(own.path)));
    expect(inputs).toEqual([
      { workload: 'w0', ...own },
      { workload: 'w1', ...own },
    ]);
    expect(existsSync(cache)).toBe(false);
  });

  it('that is missing, another, or no file cannot be used', async () => {
    const { folder, look } = bench();
    writeFileSync(join(folder, 'parts'), 'abd');
    mkdirSync(join(folder, 'folder'));
    const pipe = join(folder, 'pipe');
    execFileSync(needs.program('mkfifo').path, [pipe]);
    const faults = (
      await look(file('gone'), file('parts', 'a'.repeat(64)), file('folder'), file(pipe))
    ).map(({ fault }) => fault);
    expect(faults).toEqual([
      'cannot be read: no such file',
      `has SHA-256 ${sha256('abd')}, the suite expects ${'a'.repeat(64)}`,
      'is a folder; expected a file',
      'is a named pipe; expected a file',
    ]);
  });
});

describe('a generated input', () => {
  it('is made once, read-only, and found again', async () => {
    const { cache, look, prepare } = bench();
    expect(await look(text)).toMatchObject([{ cached: false, fault: null }]);
    expect(existsSync(cache)).toBe(false);
    const first = unwrap(await prepare(text, text));
    const [one, two] = first.inputs;
    expect(one?.path).toBe(two?.path);
    expect(one?.path).toBe(join(cache, 'generated-1', 'text-100000-4.txt'));
    const made = statSync(one?.path ?? '');
    expect(made.mode & 0o777).toBe(0o444);
    expect(one).toMatchObject({ bytes: 100_000, sha256: sha256(readFileSync(one?.path ?? '')) });
    expect(first.notes).toEqual([]);
    expect(await look(text)).toMatchObject([{ cached: true }]);
    expect(unwrap(await prepare(text)).notes).toEqual([]);
    expect(statSync(one?.path ?? '').ino).toBe(made.ino);
    expect(readdirSync(join(cache, 'generated-1')).sort()).toEqual([
      'text-100000-4.txt',
      'text-100000-4.txt.json',
    ]);
  });

  it('that a killed sitting left half made is cleared away a day later', async () => {
    const { cache, prepare } = bench();
    const folder = join(cache, 'generated-1');
    mkdirSync(folder, { recursive: true });
    const yesterday = new Date(Date.now() - 25 * 3_600_000);
    for (const name of ['old.new', 'young.new', 'old.txt']) {
      writeFileSync(join(folder, name), '');
      if (name.startsWith('old')) utimesSync(join(folder, name), yesterday, yesterday);
    }
    unwrap(await prepare(text));
    expect(readdirSync(folder)).toEqual(expect.arrayContaining(['young.new', 'old.txt']));
    expect(readdirSync(folder)).not.toContain('old.new');
  });

  it('that is no longer what it was is made again, and that is said', async () => {
    const { prepare } = bench();
    const { inputs } = unwrap(await prepare(text));
    const path = inputs[0]?.path ?? '';
    const bytes = readFileSync(path);
    const damage: readonly (() => void)[] = [
      () => overwrite(path, bytes.toString('latin1').replace(/^./, '!')),
      () => overwrite(path, 'shorter'),
      () => unlinkSync(`${path}.json`),
      () => writeFileSync(`${path}.json`, '{"size":'),
      () => {
        rmSync(path);
        mkdirSync(path);
      },
    ];
    for (const harm of damage) {
      harm();
      const again = unwrap(await prepare(text));
      expect(again.notes).toMatchObject([{ severity: 'note', workload: 'w0' }]);
      expect(readFileSync(path).equals(bytes)).toBe(true);
      expect(unwrap(await prepare(text)).notes).toEqual([]);
    }
  });

  it('must have the checksum that the suite states', async () => {
    const { prepare } = bench();
    const { inputs } = unwrap(await prepare(text));
    const sum = inputs[0]?.sha256 ?? '';
    expect(await prepare({ ...text, sha256: sum })).toMatchObject({ ok: true });
    expect(await prepare({ ...text, sha256: 'b'.repeat(64) })).toMatchObject({
      ok: false,
      error: [
        {
          severity: 'refuse',
          message: `generated input in has SHA-256 ${sum}, the suite expects ${'b'.repeat(64)}`,
        },
      ],
    });
  });

  it('that cannot be made refuses with the reason, and leaves nothing half made', async () => {
    const { cache, look, folder } = bench();
    writeFileSync(join(folder, 'cache'), 'a file in the way');
    const inTheWay = await prepareInputs(await look(text), generator);
    expect(inTheWay).toMatchObject({ ok: false, error: [{ check: 'inputs', severity: 'refuse' }] });
    rmSync(cache);
    const broken = await prepareInputs(await look(text), { ...generator, script: '/no/such.js' });
    expect(broken).toMatchObject({
      ok: false,
      error: [{ message: expect.stringContaining('cannot be made') }],
    });
    const stop = AbortSignal.abort();
    const stopped = await prepareInputs(await look({ ...text, sizeBytes: 2 ** 30 }), {
      ...generator,
      stop,
    });
    expect(stopped).toMatchObject({
      ok: false,
      error: [{ message: expect.stringContaining('stopped') }],
    });
    expect(readdirSync(join(cache, 'generated-1'))).toEqual([]);
  });

  const full = needs.program('prlimit');
  it.skipIf(full.missing)('that the disk has no room for refuses with the reason', async () => {
    const { cache, look } = bench();
    // A limit on the size of files stands in for a full disk.
    const wrapper = join(temporaryFolder(), 'node');
    writeFileSync(wrapper, `#!/bin/sh\nexec ${full.path} --fsize=65536 ${process.execPath} "$@"\n`);
    chmodSync(wrapper, 0o755);
    const result = await prepareInputs(await look(text), { ...generator, node: wrapper });
    expect(result).toMatchObject({
      ok: false,
      error: [{ message: expect.stringMatching(/cannot be made: .*(EFBIG|SIGXFSZ)/) }],
    });
    expect(readdirSync(join(cache, 'generated-1'))).toEqual([]);
  });
});

describe('an archive', () => {
  const archive: Input = { kind: 'archive', path: 'parts.tar', sha256: null };

  it('is unpacked into the cache by what it holds, and checked there', async () => {
    const { folder, cache, prepare } = bench();
    const bytes = tarOf([{ name: 'a/b', content: 'x' }]);
    writeFileSync(join(folder, 'parts.tar'), bytes);
    const { inputs, notes } = unwrap(await prepare(archive));
    const path = join(cache, 'unpacked-1', sha256(bytes));
    expect(inputs).toMatchObject([{ path, bytes: bytes.length, sha256: sha256(bytes) }]);
    expect(notes).toEqual([]);
    const damage: readonly (() => void)[] = [
      () => overwrite(join(path, 'a/b'), 'y'),
      () => writeFileSync(join(path, 'left-behind.o'), ''),
      () => chmodSync(join(path, 'a/b'), 0o755),
      () => rmSync(join(path, 'a/b')),
    ];
    for (const harm of damage) {
      harm();
      expect(unwrap(await prepare(archive)).notes).toHaveLength(1);
      expect(readFileSync(join(path, 'a/b'), 'utf8')).toBe('x');
      expect(readdirSync(path)).toEqual(['a']);
    }
    expect(unwrap(await prepare(archive)).notes).toEqual([]);
  });

  it('that may not be unpacked refuses, and leaves nothing behind', async () => {
    const { folder, cache, look, prepare } = bench();
    writeFileSync(join(folder, 'parts.tar'), tarOf([{ name: 'a' }, { name: '../evil' }]));
    expect(await prepare(archive)).toMatchObject({
      ok: false,
      error: [
        {
          check: 'inputs',
          severity: 'refuse',
          message: 'input in: parts.tar has an entry "../evil" that leads upwards by `..`',
        },
      ],
    });
    expect(readdirSync(join(cache, 'unpacked-1'))).toEqual([]);
    writeFileSync(join(folder, 'parts.tar'), 'no archive');
    expect(await look(archive)).toMatchObject([{ fault: 'is no tar, tar.gz or zip archive' }]);
  });
});
