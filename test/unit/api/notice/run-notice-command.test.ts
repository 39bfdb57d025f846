import { chmodSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import {
  type CommandOptions,
  runNoticeCommand,
} from '../../../../src/api/notice/run-notice-command.ts';
import { sampleEndNotice } from '../../../setup/samples.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';

function run(command: readonly [string, ...string[]], changes: Partial<CommandOptions> = {}) {
  return runNoticeCommand(sampleEndNotice(), command, {
    environment: { PATH: process.env['PATH'] },
    signal: new AbortController().signal,
    timeoutSeconds: 20,
    graceSeconds: 0.2,
    ...changes,
  });
}

const shell = (line: string, ...args: string[]) => ['/bin/sh', '-c', line, 'sh', ...args] as const;

/** Whether a process of that id is there and no zombie. */
function isRunning(pid: number): boolean {
  const path = `/proc/${pid}/stat`;
  return existsSync(path) && !/\) Z /.test(readFileSync(path, 'utf8'));
}

describe('telling a command', () => {
  it('gives it the notice as one line of JSON, and its arguments as they are', async () => {
    const folder = temporaryFolder();
    const odd = `a "b" 'c' $(touch ${folder}/no) ; *`;
    const told = shell(`cat > ${folder}/in; printf %s "$1" > ${folder}/argument`, odd);
    expect(await run(told)).toEqual({ ok: true, value: 'done' });
    const text = readFileSync(join(folder, 'in'), 'utf8');
    expect(text.endsWith('}\n')).toBe(true);
    expect(JSON.parse(text)).toEqual(sampleEndNotice());
    expect(readFileSync(join(folder, 'argument'), 'utf8')).toBe(odd);
    expect(existsSync(join(folder, 'no'))).toBe(false);
  });

  it('says how it failed', async () => {
    expect(await run(shell('exit 3'))).toEqual({ ok: false, error: 'ended with exit code 3' });
    expect(await run(shell('kill -9 $$'))).toEqual({ ok: false, error: 'ended with SIGKILL' });
    expect(await run(['/no/such/program'])).toEqual({ ok: false, error: 'not started (ENOENT)' });
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'plain'), 'text');
    chmodSync(join(folder, 'plain'), 0o644);
    expect(await run([join(folder, 'plain')])).toEqual({
      ok: false,
      error: 'not started (EACCES)',
    });
  });

  it('does not need it to read', async () => {
    expect(await run(['/bin/true'])).toEqual({ ok: true, value: 'done' });
    expect(await run(shell('exec <&-; sleep 0.1'))).toEqual({ ok: true, value: 'done' });
  });

  it('ends one that hangs, deaf to SIGTERM, with all that it started', async () => {
    const pids = join(temporaryFolder(), 'pids');
    const line = `trap '' TERM; sh -c 'trap "" TERM; echo $$ >> ${pids}; while :; do sleep 1; done' & echo $$ >> ${pids}; while :; do sleep 1; done`;
    const result = await run(shell(line), { timeoutSeconds: 1 });
    expect(result).toEqual({ ok: false, error: 'not done within 1 s' });
    const started = readFileSync(pids, 'utf8').trim().split('\n').map(Number);
    expect(started).toHaveLength(2);
    await vi.waitFor(() => expect(started.filter(isRunning)).toEqual([]));
  });

  it('is given up at once when asked to', async () => {
    const leaving = new AbortController();
    const running = run(shell('sleep 60'), { signal: leaving.signal });
    leaving.abort();
    expect(await running).toEqual({ ok: false, error: 'given up' });
  });
});
