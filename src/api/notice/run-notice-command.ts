import { spawn } from 'node:child_process';
import { err, ok, type Result } from '../../lib/result.ts';
import type { EndNotice } from '../../model/end-notice.ts';

export interface CommandOptions {
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** Ends it at once. */
  readonly signal: AbortSignal;
  readonly timeoutSeconds: number;
  /** From SIGTERM to SIGKILL. */
  readonly graceSeconds: number;
}

/** Runs a command once with the notice on its standard input, ended with all it started after the time. What to say of it. */
export function runNoticeCommand(
  notice: EndNotice,
  [program, ...args]: readonly [string, ...string[]],
  options: CommandOptions,
): Promise<Result<string, string>> {
  const { environment, signal, timeoutSeconds, graceSeconds } = options;
  return new Promise((resolve) => {
    const child = spawn(program, args, {
      stdio: ['pipe', 'ignore', 'inherit'],
      env: environment,
      detached: true,
    });
    let isLate = false;
    const killGroup = (how: NodeJS.Signals): void => {
      try {
        if (child.pid !== undefined) process.kill(-child.pid, how);
      } catch {
        // It has ended meanwhile.
      }
    };
    let last: NodeJS.Timeout | undefined;
    const end = (): void => {
      isLate = true;
      killGroup('SIGTERM');
      last = setTimeout(() => killGroup('SIGKILL'), graceSeconds * 1000);
    };
    const timer = setTimeout(end, timeoutSeconds * 1000);
    if (signal.aborted) end();
    signal.addEventListener('abort', end, { once: true });
    const settle = (result: Result<string, string>): void => {
      clearTimeout(timer);
      clearTimeout(last);
      signal.removeEventListener('abort', end);
      if (isLate) killGroup('SIGKILL');
      resolve(result);
    };
    child.once('error', (error: NodeJS.ErrnoException) =>
      settle(err(`not started (${error.code ?? error.message})`)),
    );
    child.once('exit', (code, signalled) => {
      if (isLate) settle(err(signal.aborted ? 'given up' : `not done within ${timeoutSeconds} s`));
      else settle(code === 0 ? ok('done') : err(`ended with ${signalled ?? `exit code ${code}`}`));
    });
    // A command need not read what it is told.
    child.stdin.on('error', () => undefined);
    child.stdin.end(`${JSON.stringify(notice)}\n`);
  });
}
