import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs';
import { basename, join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { formatProblem, type Problem } from '../../../src/model/problem.ts';
import { shippedCatalog } from '../../../src/model/shipped-catalog.ts';
import { loadSuite, maxSuiteBytes } from '../../../src/suite/load.ts';
import { needs } from '../../setup/needs.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

const minimal = 'suite: a\ntitle: b\nworkloads:\n  - { id: a, kind: command, argv: [a] }\n';
const withInput = (path: string): string =>
  `suite: a\ntitle: b\nworkloads:\n  - { id: a, kind: command, argv: ['{input:x}'], inputs: { x: { path: ${path} } } }\n`;

async function problems(path: string): Promise<readonly Problem[]> {
  const loaded = await loadSuite(path, shippedCatalog);
  return loaded.ok ? [] : loaded.error;
}

/** A folder with a suite that has one input, and next to it a folder that no suite may reach into. */
function benchWithInput(path: string): { suite: string; folder: string; outside: string } {
  const root = temporaryFolder();
  const folder = join(root, 'suites');
  const outside = join(root, 'outside');
  mkdirSync(join(folder, 'data'), { recursive: true });
  mkdirSync(outside);
  writeFileSync(join(outside, 'secret'), 'x');
  const suite = join(folder, 'a.yaml');
  writeFileSync(suite, withInput(path));
  return { suite, folder, outside };
}

describe('loadSuite', () => {
  it('gives the text, its checksum and the folder beside the suite', async () => {
    const path = join(temporaryFolder(), 'a.yaml');
    const text = `\ufeff# Motorräder\n${minimal}`;
    writeFileSync(path, text);
    const loaded = unwrap(await loadSuite(relative(process.cwd(), path), shippedCatalog));
    expect(loaded.text).toBe(text);
    expect(loaded.textSha256).toBe(createHash('sha256').update(readFileSync(path)).digest('hex'));
    expect(join(loaded.folder, basename(path))).toBe(path);
    expect(loaded.suite.id).toBe('a');
  });

  it('names the file as the user did', async () => {
    const path = relative(process.cwd(), join(temporaryFolder(), 'nothing.yaml'));
    expect((await problems(path)).map(formatProblem)).toEqual([
      `${path}: cannot be read: no such file`,
    ]);
  });

  it('refuses a folder', async () => {
    expect(await problems(temporaryFolder())).toMatchObject([
      { code: 'file-unreadable', message: 'is a folder; expected a suite file' },
    ]);
  });

  it.skipIf(process.platform === 'win32')('refuses a device', async () => {
    expect(await problems('/dev/zero')).toMatchObject([
      { code: 'file-unreadable', message: 'is a device; expected a suite file' },
    ]);
  });

  const mkfifo = needs.program('mkfifo');
  it.skipIf(mkfifo.missing)('does not wait for a writer at a named pipe', async () => {
    const path = join(temporaryFolder(), 'pipe.yaml');
    execFileSync(mkfifo.path, [path]);
    expect(await problems(path)).toMatchObject([
      { code: 'file-unreadable', message: 'is a named pipe; expected a suite file' },
    ]);
  });

  it('refuses a symbolic link that leads to itself', async () => {
    const path = join(temporaryFolder(), 'a.yaml');
    symlinkSync(path, path);
    expect(await problems(path)).toMatchObject([
      {
        message:
          'cannot be read: a symbolic link where none is followed, or some that lead in a circle',
      },
    ]);
  });

  it('refuses a name with a NUL in it', async () => {
    expect(await problems('a\0b')).toMatchObject([{ code: 'file-unreadable' }]);
  });

  it('refuses a file of 100 MB by its size alone', async () => {
    const path = join(temporaryFolder(), 'a.yaml');
    writeFileSync(path, minimal);
    truncateSync(path, 100_000_000);
    expect(await problems(path)).toMatchObject([
      {
        code: 'file-too-large',
        message: 'is 100000000 bytes; expected a suite of at most 1048576 bytes (1 MiB)',
      },
    ]);
  });

  it('reads a file that is just small enough', async () => {
    const path = join(temporaryFolder(), 'a.yaml');
    writeFileSync(path, minimal.padEnd(maxSuiteBytes - 1, '#').padEnd(maxSuiteBytes, '\n'));
    expect(await problems(path)).toEqual([]);
  });

  it('refuses an empty file', async () => {
    const path = join(temporaryFolder(), 'a.yaml');
    writeFileSync(path, '');
    expect((await problems(path)).map(formatProblem)).toEqual([
      `${path}:1:1: the suite is empty; expected a map of keys`,
    ]);
  });
});

describe('a profile of a suite', () => {
  const withProfiles = `${minimal}profiles: { short: { repeats: 1 }, thorough: { repeats: 20 } }\n`;

  async function load(text: string, profile: string) {
    const path = join(temporaryFolder(), 'a.yaml');
    writeFileSync(path, text);
    const loaded = await loadSuite(path, shippedCatalog, profile);
    return loaded.ok
      ? loaded.value.suite
      : loaded.error.map((problem) => formatProblem({ ...problem, file: 'a.yaml' }));
  }

  it('is taken by its name', async () => {
    expect(await load(withProfiles, 'short')).toMatchObject({
      profile: 'short',
      repeats: { kind: 'fixed', count: 1 },
    });
  });

  it.each([
    ['shrt', 'has no profile `shrt`; did you mean `short`?'],
    ['other', 'has no profile `other`; expected one of `short`, `thorough`'],
    ['constructor', 'has no profile `constructor`; expected one of `short`, `thorough`'],
  ])('is asked for by a name that there is: %s', async (profile, message) => {
    expect(await load(withProfiles, profile)).toEqual([`a.yaml: ${message}`]);
  });

  it('is an option that only suites with profiles take', async () => {
    const path = join(temporaryFolder(), 'a.yaml');
    writeFileSync(path, minimal);
    const loaded = await loadSuite(path, shippedCatalog, 'short');
    expect(loaded).toMatchObject({
      error: [
        {
          code: 'option-invalid',
          message: 'has no profile `short`, nor any other: leave `--profile` out',
        },
      ],
    });
  });
});

describe('an input of a suite', () => {
  it('may be a file below the folder, also by a symbolic link that stays within', async () => {
    const { suite, folder } = benchWithInput('data/link');
    writeFileSync(join(folder, 'data', 'file'), 'x');
    symlinkSync('file', join(folder, 'data', 'link'));
    expect(await problems(suite)).toEqual([]);
  });

  it('may lie beside a suite that is itself reached by a symbolic link to its folder', async () => {
    const { suite, folder, outside } = benchWithInput('data/file');
    writeFileSync(join(folder, 'data', 'file'), 'x');
    symlinkSync(folder, join(outside, 'way'));
    expect(await problems(join(outside, 'way', basename(suite)))).toEqual([]);
  });

  it('may be a file of the user, named by its absolute path', async () => {
    const { outside } = benchWithInput('x');
    const { suite } = benchWithInput(join(outside, 'own'));
    expect((await problems(suite)).map(formatProblem)).toEqual([
      `${suite}:4:71: input \`x\`: \`${join(outside, 'own')}\` cannot be read: no such file; expected a file`,
    ]);
    writeFileSync(join(outside, 'own'), 'x');
    expect(await problems(suite)).toEqual([]);
  });

  it('may not be a folder named by its absolute path', async () => {
    const { suite, outside } = benchWithInput('x');
    writeFileSync(suite, withInput(outside));
    expect(await problems(suite)).toMatchObject([
      { message: `input \`x\`: \`${outside}\` is a folder; expected a file` },
    ]);
  });

  it('must be there as an archive too', async () => {
    const { suite } = benchWithInput('x');
    writeFileSync(suite, withInput('x').replace('path:', 'archive:'));
    expect(await problems(suite)).toMatchObject([
      { column: 74, message: expect.stringContaining('`x` cannot be read: no such file') },
    ]);
  });

  it('must be there', async () => {
    const { suite } = benchWithInput('data/file');
    expect((await problems(suite)).map(formatProblem)).toEqual([
      `${suite}:4:71: input \`x\`: \`data/file\` cannot be read: no such file; expected a file relative to the suite's folder`,
    ]);
  });

  it('must be a file', async () => {
    const { suite } = benchWithInput('data');
    expect(await problems(suite)).toMatchObject([
      { message: 'input `x`: `data` is a folder; expected a file' },
    ]);
  });

  it.each(['file', 'folder'])('may not leave the folder by a link to a %s', async (kind) => {
    const { suite, folder, outside } = benchWithInput(kind === 'file' ? 'way' : 'way/secret');
    symlinkSync(kind === 'file' ? join(outside, 'secret') : '../outside', join(folder, 'way'));
    expect(await problems(suite)).toMatchObject([
      {
        code: 'suite-invalid',
        line: 4,
        message: expect.stringContaining("leads out of the suite's folder by a symbolic link"),
      },
    ]);
  });

  it.each(['../outside/secret', 'data/../../outside/secret'])(
    'may not be named %s, whether it is there or not',
    async (path) => {
      const { suite } = benchWithInput(path);
      expect(await problems(suite)).toMatchObject([
        { code: 'suite-invalid', message: expect.stringContaining('not leaving it') },
      ]);
    },
  );
});
