import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Accounting, Ended } from '../../../src/model/meter.ts';
import { judge } from '../../../src/runner/judge.ts';
import type { RunFiles } from '../../../src/runner/output.ts';
import { sampleRun, sampleWorkload } from '../../setup/samples.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';

const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');

function makeFiles(stdout: string): RunFiles {
  const folder = temporaryFolder();
  const files = {
    stdout: join(folder, 'out'),
    stderr: join(folder, 'err'),
    scratch: join(folder, 'scratch'),
  };
  mkdirSync(files.scratch);
  writeFileSync(files.stdout, stdout);
  writeFileSync(files.stderr, '');
  return files;
}

function ended(changes: Partial<Ended> = {}, stdout = ''): Ended {
  const stream = (text: string): Ended['stdout'] => ({
    bytes: text.length,
    keptBytes: text.length,
    sha256: sha256(text),
  });
  return {
    kind: 'ended',
    exit: { kind: 'code', code: 0 },
    stopped: null,
    accounting: sampleRun().accounting as Accounting,
    leftBehind: 0,
    stdout: stream(stdout),
    stderr: stream(''),
    ...changes,
  };
}

const checked = sampleWorkload({
  expect: { exitCode: 0, output: { of: { kind: 'stdout', step: null }, sha256: sha256('right') } },
});

describe('judge', () => {
  it('takes a run that ended as expected, with its figures', async () => {
    const judged = await judge(checked, ended({}, 'right'), makeFiles('right'));
    expect(judged).toMatchObject({ failure: null, metrics: [{ id: 'wall', value: 2.5 }] });
  });

  it('fails a run whose output is wrong, however fast it was', async () => {
    const judged = await judge(checked, ended({}, 'wrong'), makeFiles('wrong'));
    expect(judged.failure?.code).toBe('wrong-output');
    expect(judged.failure?.message).toContain('unstable hardware');
    expect(judged.metrics).toEqual([]);
  });

  it('checks a file that the program left', async () => {
    const files = makeFiles('');
    writeFileSync(join(files.scratch, 'image'), 'pixels');
    const of = { kind: 'file', path: 'image' } as const;
    const good = sampleWorkload({
      expect: { exitCode: 0, output: { of, sha256: sha256('pixels') } },
    });
    expect((await judge(good, ended(), files)).failure).toBeNull();
    const missing = sampleWorkload({
      expect: { exitCode: 0, output: { of: { kind: 'file', path: 'no' }, sha256: sha256('') } },
    });
    expect((await judge(missing, ended(), files)).failure).toMatchObject({ code: 'wrong-output' });
  });

  it.each([
    [
      'time-limit',
      {
        stopped: { cause: 'time-limit', forced: false },
        exit: { kind: 'signal', signal: 'SIGTERM' },
      },
    ],
    [
      'output-limit',
      {
        stopped: { cause: 'output-limit', forced: true },
        exit: { kind: 'signal', signal: 'SIGKILL' },
      },
    ],
    [
      'stopped-by-operator',
      { stopped: { cause: 'operator', forced: false }, exit: { kind: 'code', code: 0 } },
    ],
    [
      'temperature-limit',
      { stopped: { cause: 'temperature-limit', forced: false }, exit: { kind: 'code', code: 0 } },
    ],
    ['ended-by-signal', { exit: { kind: 'signal', signal: 'SIGSEGV' } }],
    ['unexpected-exit-code', { exit: { kind: 'code', code: 3 } }],
  ] as const)('calls it %s by the first cause', async (code, changes) => {
    const judged = await judge(sampleWorkload(), ended(changes), makeFiles('last words'));
    expect(judged.failure?.code).toBe(code);
    expect(judged.failure?.message).toContain('last words');
  });

  it('says how hot it was, and nothing of a signal where heat ended the run', async () => {
    const order = { cause: 'temperature-limit', message: 'the processor reached 95 °C' } as const;
    const stopped = { cause: 'temperature-limit', forced: true } as const;
    const outcome = ended({ stopped, exit: { kind: 'signal', signal: 'SIGKILL' } });
    const { failure } = await judge(sampleWorkload(), outcome, makeFiles(''), order);
    expect(failure).toMatchObject({ code: 'temperature-limit' });
    expect(failure?.message).toContain('the processor reached 95 °C');
  });

  it('goes by what stopped the run first, not by what was ordered after that', async () => {
    const order = { cause: 'temperature-limit', message: 'the processor reached 95 °C' } as const;
    const stopped = { cause: 'time-limit', forced: true } as const;
    const { failure } = await judge(sampleWorkload(), ended({ stopped }), makeFiles(''), order);
    expect(failure?.code).toBe('time-limit');
    const good = await judge(sampleWorkload(), ended(), makeFiles(''), order);
    expect(good.failure).toBeNull();
  });

  it('fails a run that wrote too much, also when it ended before that was noticed', async () => {
    const stream = { bytes: 2 ** 20 + 1, keptBytes: 2 ** 20, sha256: null };
    const judged = await judge(sampleWorkload(), ended({ stdout: stream }), makeFiles(''));
    expect(judged.failure?.code).toBe('output-limit');
  });

  it('accepts the exit code that the suite expects', async () => {
    const workload = sampleWorkload({ expect: { exitCode: 3, output: null } });
    expect(
      (await judge(workload, ended({ exit: { kind: 'code', code: 3 } }), makeFiles(''))).failure,
    ).toBeNull();
  });

  it('tells a program that is not there from one that failed', async () => {
    const outcome = {
      kind: 'not-started',
      reason: 'not-found',
      message: 'no program pack',
    } as const;
    expect((await judge(sampleWorkload(), outcome, makeFiles(''))).failure).toEqual({
      code: 'program-not-found',
      message: 'no program pack',
    });
  });
});
