import {
  chmodSync,
  copyFileSync,
  mkdirSync,
  readFileSync,
  realpathSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fixture, meterNames, openTestMeter, path, type TestMeter } from './harness.ts';

describe.each(meterNames)('the %s meter starting programs', (name) => {
  let test: TestMeter;
  beforeAll(async () => {
    test = await openTestMeter(name);
  });
  afterAll(() => test.close());

  const report = async (more: Parameters<TestMeter['run']>[1] = {}) => {
    await test.run([process.execPath, fixture('report-self.mjs'), 'x'], more);
    return JSON.parse(test.stdout());
  };

  it('says which one it is', () => {
    expect(test.meter.name).toBe(name);
  });

  it('hands any arguments on unchanged', async () => {
    const argument = fc.oneof(
      fc.string({ unit: 'grapheme', maxLength: 20 }),
      fc.constantFrom(
        '',
        ' ',
        '-e',
        '--',
        '-n',
        "'",
        '"',
        '$HOME',
        '`id`',
        '$(id)',
        '\\',
        '\n',
        '*',
        '~',
        ';',
        '&',
        '#',
      ),
    );
    await fc.assert(
      fc.asyncProperty(
        fc.array(
          argument.filter((text) => !text.includes('\0')),
          { maxLength: 6 },
        ),
        async (given) => {
          await test.run([
            process.execPath,
            '-e',
            'process.stdout.write(JSON.stringify(process.argv.slice(1)))',
            '--',
            ...given,
          ]);
          expect(JSON.parse(test.stdout())).toEqual(given);
        },
      ),
      { numRuns: 25 },
    );
  });

  it('hands a script its arguments unchanged', async () => {
    await test.run([fixture('arguments.sh'), '', '-a b', 'line\nline', '\'"', '$x']);
    expect(test.stdout()).toBe(`0:,4:-a b,9:line\nline,2:'",2:$x,`);
  });

  it.each([
    ['plain', { A: '1', EMPTY: '', MULTI: 'a\nb=c', PATH: path }],
    [
      'with names that shells set themselves',
      {
        PWD: '/elsewhere',
        OLDPWD: 'x',
        SHLVL: '7',
        IFS: ',',
        _: 'y',
        PS1: '$',
        OPTIND: '3',
        PPID: '1',
      },
    ],
    ['with names that are not names to a shell', { 'a.b': '1', 'x-y': '2', '1': 'one', ä: 'ö' }],
    ['empty', {}],
  ])('gives exactly the environment it was told, %s', async (_, environment) => {
    expect((await report({ environment })).environment).toEqual(environment);
  });

  it('starts in the working folder', async () => {
    const workingFolder = join(test.folder, 'a folder');
    mkdirSync(workingFolder);
    expect((await report({ workingFolder })).folder).toBe(realpathSync(workingFolder));
  });

  it('gives it nothing to read and its two log files to append to', async () => {
    const { descriptors } = await report();
    expect(descriptors.slice(0, 3)).toEqual([
      [0, '/dev/null'],
      [1, join(test.folder, 'stdout')],
      [2, join(test.folder, 'stderr')],
    ]);
  });

  it('looks a bare name up in the PATH of the request, past folders and files that can not be executed', async () => {
    const [first, second, third] = ['p1', 'p2', 'p3'].map((folder) => join(test.folder, folder));
    for (const folder of [first, second, third]) mkdirSync(folder!);
    mkdirSync(join(first!, 'prog'));
    copyFileSync(fixture('not-executable.sh'), join(second!, 'prog'));
    copyFileSync(fixture('arguments.sh'), join(third!, 'prog'));
    chmodSync(join(third!, 'prog'), 0o755);
    const environment = { PATH: `relative:${first}:${second}:${third}` };
    await test.run(['prog', 'found'], { environment });
    expect(test.stdout()).toBe('5:found,');
    const outcome = await test.measure(['prog'], { environment: { PATH: `${first}:${second}` } });
    expect(outcome).toMatchObject({ kind: 'not-started', reason: 'not-executable' });
  });

  it.each([
    ['a bare name that is nowhere', 'no-such-program-here', 'not-found'],
    ['a path to nothing', '/no/such/program', 'not-found'],
    ['an empty name', '', 'not-found'],
    ['a file below a file', '/etc/passwd/x', 'not-found'],
    ['a folder', '/tmp', 'not-executable'],
    ['a device', '/dev/null', 'not-executable'],
    ['a file without execute permission', fixture('not-executable.sh'), 'not-executable'],
    ['a script whose interpreter is missing', fixture('bad-interpreter'), 'not-executable'],
    ['a script that names no interpreter', fixture('no-interpreter'), 'not-executable'],
  ])('tells that %s was not started, and why', async (_, program, reason) => {
    const outcome = await test.measure([program]);
    expect(outcome).toMatchObject({ kind: 'not-started', reason });
    expect(outcome.kind === 'not-started' && outcome.message).toContain(program);
  });

  it('tells a damaged program and one for another machine from a program that fails', async () => {
    const elf = readFileSync('/bin/sleep');
    const damage = async (change: (bytes: Buffer) => Buffer) => {
      const file = join(test.folder, 'damaged');
      writeFileSync(file, change(Buffer.from(elf)), { mode: 0o755 });
      return test.measure([file]);
    };
    const refused = { kind: 'not-started', reason: 'not-executable' };
    if (name === 'kernel') {
      expect(await damage((bytes) => bytes.fill(0xee, 18, 20))).toMatchObject(refused);
      expect(await damage((bytes) => bytes.subarray(0, 20))).toMatchObject(refused);
    }
    const loader = elf.indexOf('/ld-');
    expect(await damage((bytes) => bytes.fill('x', loader, loader + 3))).toMatchObject(refused);
  });

  it('tells a program that can not be found from one that exits with 126 or 127 itself', async () => {
    for (const code of [126, 127]) {
      const { exit } = await test.run(['sh', '-c', `exit ${code}`]);
      expect(exit).toEqual({ kind: 'code', code });
    }
  });

  it.each([
    ['is missing', '/no/such/folder'],
    ['is a file', '/etc/passwd'],
  ])('refuses a working folder that %s', async (_, workingFolder) => {
    const outcome = await test.measure(['true'], { workingFolder });
    expect(outcome).toMatchObject({ kind: 'not-started', reason: 'no-such-folder' });
  });

  it('refuses what no program can be given', async () => {
    const refused = { kind: 'not-started', reason: 'system-error' };
    expect(await test.measure(['echo', 'a\0b'])).toMatchObject(refused);
    expect(await test.measure(['true'], { environment: { 'A=B': 'c' } })).toMatchObject(refused);
    expect(await test.measure(['true', 'x'.repeat(200_000)])).toMatchObject(refused);
    expect(await test.measure(['true'], { stdoutPath: '/no/such/folder/out' })).toMatchObject(
      refused,
    );
  });

  it('can measure on after a refusal', async () => {
    await test.measure(['/no/such/program']);
    expect((await test.run(['true'])).exit).toEqual({ kind: 'code', code: 0 });
  });

  it('follows a symbolic link to a program', async () => {
    symlinkSync('/bin/true', join(test.folder, 'link'));
    expect((await test.run([join(test.folder, 'link')])).exit).toEqual({ kind: 'code', code: 0 });
  });
});
