import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { needs } from '../../../setup/needs.ts';
import { meterNames, openTestMeter, type TestMeter } from './harness.ts';

const mkfifo = needs.program('mkfifo');

describe.each(meterNames)('the %s meter and the streams of programs', (name) => {
  let test: TestMeter;
  beforeAll(async () => {
    test = await openTestMeter(name, { headBytes: 100, tailBytes: 100 });
  });
  afterAll(() => test.close());

  const file = (path: string): string => join(test.folder, path);

  it('gives a program a file to read, from its beginning to its end', async () => {
    const bytes = Buffer.from(Array.from({ length: 200_000 }, (_, i) => i % 251));
    writeFileSync(file('work'), bytes);
    await test.run(['sha256sum'], { stdinPath: file('work') });
    const expected = createHash('sha256').update(bytes).digest('hex');
    expect(test.stdout()).toBe(`${expected}  -\n`);
  });

  it('gives it that file for reading only', async () => {
    writeFileSync(file('work'), 'x');
    const stdinPath = file('work');
    await test.run(['readlink', '/proc/self/fd/0'], { stdinPath });
    expect(test.stdout()).toBe(`${stdinPath}\n`);
    await test.run(['ls', '/proc/self/fd'], { stdinPath });
    // The last is the folder that it lists. Node hands on what it inherited itself.
    if (name === 'kernel') expect(test.stdout()).toBe('0\n1\n2\n3\n');
    const ended = await test.run(['sh', '-c', 'echo changed >&0'], { stdinPath });
    expect(ended.exit).not.toEqual({ kind: 'code', code: 0 });
    expect(readFileSync(stdinPath, 'utf8')).toBe('x');
  });

  it('leaves whole what is the work of a program, and counts none of it as logged', async () => {
    const ended = await test.run(['seq', '100000'], {
      stdoutPath: file('numbers'),
      wholeStdout: true,
      outputLimitBytes: 1000,
    });
    const all = `${Array.from({ length: 100_000 }, (_, i) => i + 1).join('\n')}\n`;
    expect(readFileSync(file('numbers'), 'utf8')).toBe(all);
    expect(ended).toMatchObject({
      stopped: null,
      stdout: { bytes: all.length, keptBytes: all.length, sha256: null },
    });
  });

  it('still ends a program that floods its standard error', async () => {
    const ended = await test.run(['sh', '-c', 'yes >&2'], {
      stdoutPath: file('numbers'),
      wholeStdout: true,
      outputLimitBytes: 100_000,
    });
    expect(ended.stopped?.cause).toBe('output-limit');
  });

  it('lets a program go back in its work, as in a file opened by itself', async () => {
    const script = 'import os; os.write(1, b"abcdef"); os.lseek(1, 1, 0); os.write(1, b"X")';
    await test.run(['python3', '-c', script], { stdoutPath: file('seek'), wholeStdout: true });
    expect(readFileSync(file('seek'), 'utf8')).toBe('aXcdef');
  });

  it.skipIf(mkfifo.missing)(
    'refuses to read from or write to something else than a file',
    async () => {
      const refused = { kind: 'not-started', reason: 'system-error' };
      execFileSync(mkfifo.path, [file('pipe')]);
      for (const stdinPath of [file('nothing'), file('pipe'), test.folder, '/dev/zero']) {
        const outcome = await test.measure(['cat'], { stdinPath });
        expect(outcome).toMatchObject(refused);
        expect(outcome.kind === 'not-started' && outcome.message).toContain(stdinPath);
      }
      writeFileSync(file('precious'), 'kept');
      symlinkSync(file('precious'), file('link'));
      for (const stdoutPath of [file('link'), file('pipe'), '/no/such/folder/out']) {
        const outcome = await test.measure(['echo'], { stdoutPath, wholeStdout: true });
        expect(outcome).toMatchObject(refused);
      }
      expect(readFileSync(file('precious'), 'utf8')).toBe('kept');
      expect(statSync(file('precious')).size).toBe(4);
    },
  );
});
