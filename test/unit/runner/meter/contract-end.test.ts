import { createHash } from 'node:crypto';
import { statSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fixture, meterNames, openTestMeter, type TestMeter, until } from './harness.ts';

const kept = { headBytes: 10_000, tailBytes: 5_000 };

describe.each(meterNames)('the %s meter ending programs', (name) => {
  let test: TestMeter;
  beforeAll(async () => {
    test = await openTestMeter(name, kept);
  });
  afterAll(() => test.close());

  it('reports exit codes exactly', async () => {
    for (const code of [0, 1, 77, 255]) {
      expect((await test.run(['sh', '-c', `exit ${code}`])).exit).toEqual({ kind: 'code', code });
    }
  });

  it('reports the signal that ended a program', async () => {
    for (const signal of [
      'SIGKILL',
      'SIGTERM',
      'SIGSEGV',
      'SIGABRT',
      'SIGINT',
      'SIGQUIT',
      'SIGPIPE',
    ]) {
      const ended = await test.run(['sh', '-c', `kill -${signal.slice(3)} $$`]);
      expect(ended.exit).toEqual({ kind: 'signal', signal });
      expect(ended.stopped).toBeNull();
    }
  });

  it('measures wall time', async () => {
    const { accounting } = await test.run(['sleep', '0.3']);
    expect(accounting.wallSeconds).toBeGreaterThanOrEqual(0.3);
    expect(accounting.wallSeconds).toBeLessThan(5);
  });

  it('keeps both streams apart, with their lengths and SHA-256', async () => {
    const ended = await test.run(['sh', '-c', 'printf out; printf error >&2']);
    expect([test.stdout(), test.stderr()]).toEqual(['out', 'error']);
    expect(ended.stdout).toEqual({ bytes: 3, keptBytes: 3, sha256: sha256('out') });
    expect(ended.stderr).toEqual({ bytes: 5, keptBytes: 5, sha256: sha256('error') });
  });

  it('keeps head and tail of a long output and the checksum of all of it', async () => {
    const ended = await test.run(['seq', '100000']);
    const all = `${Array.from({ length: 100_000 }, (_, i) => i + 1).join('\n')}\n`;
    const missing = all.length - 15_000;
    const expected = `${all.slice(0, 10_000)}\n[steadyrig: ${missing} bytes left out here]\n${all.slice(-5_000)}`;
    expect(test.stdout()).toBe(expected);
    expect(ended.stdout).toEqual({
      bytes: all.length,
      keptBytes: expected.length,
      sha256: sha256(all),
    });
  });

  it('empties the logs of the run before', async () => {
    await test.run(['echo', 'a long first line']);
    await test.run(['echo', 'x']);
    expect(test.stdout()).toBe('x\n');
  });

  it('ends a program at its time limit', async () => {
    const ended = await test.run(['sleep', '600'], { timeLimitSeconds: 0.2 });
    expect(ended.exit).toEqual({ kind: 'signal', signal: 'SIGTERM' });
    expect(ended.stopped).toEqual({ cause: 'time-limit', forced: false });
    expect(ended.leftBehind).toBe(0);
  });

  it('lets a program that handles SIGTERM end in its own way', async () => {
    const script = 'trap "echo bye; exit 4" TERM; while :; do sleep 0.01; done';
    const ended = await test.run(['sh', '-c', script], { timeLimitSeconds: 0.2 });
    expect(ended.exit).toEqual({ kind: 'code', code: 4 });
    expect(ended.stopped).toEqual({ cause: 'time-limit', forced: false });
    expect(test.stdout()).toBe('bye\n');
  });

  it('ends a program that ignores SIGTERM by SIGKILL after the grace time', async () => {
    const abort = new AbortController();
    const running = test.run([fixture('ignore-term.sh')], {
      abort: abort.signal,
      graceSeconds: 0.2,
    });
    await until(() => test.stdout() === 'ready\n', 'the program ignores SIGTERM');
    abort.abort();
    const ended = await running;
    expect(ended.exit).toEqual({ kind: 'signal', signal: 'SIGKILL' });
    expect(ended.stopped).toEqual({ cause: 'operator', forced: true });
  });

  it('ends a stopped (SIGSTOP) program too', async () => {
    const ended = await test.run(['sh', '-c', 'kill -STOP $$'], { timeLimitSeconds: 0.2 });
    expect(ended.exit).toEqual({ kind: 'signal', signal: 'SIGTERM' });
  });

  it('keeps the first cause when another follows', async () => {
    const abort = new AbortController();
    const script =
      'trap "yes | head -c 200000; exit" TERM; echo ready; while :; do sleep 0.01; done';
    const running = test.run(['sh', '-c', script], { abort: abort.signal, outputLimitBytes: 1000 });
    await until(() => test.stdout() === 'ready\n', 'the program handles SIGTERM');
    abort.abort();
    const ended = await running;
    expect(ended.stdout.bytes).toBeGreaterThan(1000);
    expect(ended.stopped).toEqual({ cause: 'operator', forced: false });
  });

  it('ends a program for heat where that is the reason, and keeps it when the operator follows', async () => {
    const abort = new AbortController();
    const running = test.run(['sh', '-c', 'echo ready; sleep 600'], { abort: abort.signal });
    await until(() => test.stdout() === 'ready\n', 'the program runs');
    abort.abort({ cause: 'temperature-limit', message: 'too hot' });
    abort.abort();
    const ended = await running;
    expect(ended.stopped).toEqual({ cause: 'temperature-limit', forced: false });
    expect(ended.exit).toEqual({ kind: 'signal', signal: 'SIGTERM' });
  });

  it('kills a program that ignores being ended for heat', async () => {
    const abort = new AbortController();
    const script = "trap '' TERM; echo ready; while :; do sleep 0.05; done";
    const running = test.run(['sh', '-c', script], { abort: abort.signal, graceSeconds: 0.2 });
    await until(() => test.stdout() === 'ready\n', 'the program ignores SIGTERM');
    abort.abort({ cause: 'temperature-limit', message: 'too hot' });
    expect((await running).stopped).toEqual({ cause: 'temperature-limit', forced: true });
  });

  it('starts nothing when stopped before', async () => {
    const outcome = await test.measure(['sh', '-c', 'echo ran'], { abort: AbortSignal.abort() });
    expect(outcome).toMatchObject({ kind: 'not-started', reason: 'system-error' });
    expect(outcome.kind === 'not-started' && outcome.message).toContain('on request');
  });

  it('ends a program when stopped just as it starts', async () => {
    const abort = new AbortController();
    const outcome = await test.measure(['sleep', '600'], {
      abort: abort.signal,
      onStart: () => abort.abort(),
    });
    if (outcome.kind === 'ended') expect(outcome.stopped?.cause).toBe('operator');
    else expect(outcome.message).toContain('before it had started');
  });

  it('ends a flood of output, with bounded use of the disk while it lasts and after', async () => {
    const file = join(test.folder, 'stdout');
    let largest = 0;
    const watch = setInterval(() => {
      largest = Math.max(largest, statSync(file).blocks * 512);
    }, 5);
    const ended = await test.run(['sh', '-c', 'trap "" TERM; yes & yes; yes'], {
      outputLimitBytes: 1_000_000,
      graceSeconds: 0.5,
    });
    clearInterval(watch);
    expect(ended.stopped).toEqual({ cause: 'output-limit', forced: true });
    expect(ended.stdout.bytes).toBeGreaterThan(1_000_000);
    expect(ended.stdout.sha256).toBeNull();
    expect(ended.stdout.keptBytes).toBe(statSync(file).size);
    expect(ended.stdout.keptBytes).toBeLessThan(15_100);
    expect(test.stdout()).toContain('bytes left out here');
    // What two floods write between two looks, on a machine that may be busy with other things.
    expect(largest).toBeLessThan(2e9);
  });

  it('counts standard error towards the output limit', async () => {
    const ended = await test.run(['sh', '-c', 'yes >&2'], { outputLimitBytes: 100_000 });
    expect(ended.stopped).toEqual({ cause: 'output-limit', forced: false });
    expect(ended.stderr.bytes).toBeGreaterThan(100_000);
  });

  it('measures a program that closes its descriptors', async () => {
    const ended = await test.run([fixture('close-descriptors.sh')]);
    expect(ended.exit).toEqual({ kind: 'code', code: 5 });
    expect(ended.accounting.wallSeconds).toBeGreaterThan(0);
  });

  it('keeps the event loop alive while a program runs', async () => {
    let ticks = 0;
    const ticker = setInterval(() => ticks++, 10);
    await test.run(['sleep', '0.5']);
    clearInterval(ticker);
    expect(ticks).toBeGreaterThan(10);
  });

  it('names the running program', async () => {
    const started: number[] = [];
    await test.run(['sh', '-c', 'echo $$'], { onStart: (pid) => started.push(pid) });
    expect(started).toEqual([Number(test.stdout())]);
  });
});

function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
