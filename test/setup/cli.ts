import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';

export const main: string = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));

export interface Finished {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface RunningCli {
  readonly child: ChildProcess;
  readonly finished: Promise<Finished>;
}

/** Starts the compiled command as a user would, without a terminal; the cautions of `run` are acknowledged. */
export function startCli(
  args: readonly string[],
  cwd: string,
  environment: Readonly<Record<string, string>> = {},
): RunningCli {
  return startAsGiven(acknowledged(args), cwd, environment);
}

/** The same with these arguments and no others. */
export function startAsGiven(
  args: readonly string[],
  cwd: string,
  environment: Readonly<Record<string, string>> = {},
): RunningCli {
  const child = spawn(process.execPath, [main, ...args], {
    cwd,
    env: { ...plainEnvironment(), ...environment },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let stdout = '';
  let stderr = '';
  child.stdout.setEncoding('utf8').on('data', (part: string) => {
    stdout += part;
  });
  child.stderr.setEncoding('utf8').on('data', (part: string) => {
    stderr += part;
  });
  const finished = once(child, 'close').then(([code]) => ({
    code: code as number | null,
    stdout,
    stderr,
  }));
  return { child, finished };
}

function acknowledged(args: readonly string[]): readonly string[] {
  return args[0] === 'run' ? [...args, '--acknowledge'] : args;
}

/** The caller's, but for what asks for colours, which a test runner may; the machine may go to sleep. */
function plainEnvironment(): NodeJS.ProcessEnv {
  const { FORCE_COLOR: _, ...rest } = process.env;
  return { ...rest, STEADYRIG_NO_INHIBIT: '1' };
}

export function runCli(
  args: readonly string[],
  cwd: string,
  environment: Readonly<Record<string, string>> = {},
): Promise<Finished> {
  return startCli(args, cwd, environment).finished;
}

/** Refused with a message that holds this, and no more: nothing was printed, and there is no stack. */
export function expectRefused(finished: Finished, message: string): void {
  expect(finished).toMatchObject({
    code: 2,
    stdout: '',
    stderr: expect.stringContaining(message),
  });
  expect(finished.stderr).not.toContain('    at ');
}

/** Events of a log written with `--log`, as far as it is written. */
export function loggedEvents(
  path: string,
): readonly { readonly type: string; readonly [key: string]: unknown }[] {
  if (!existsSync(path)) return [];
  return readFileSync(path, 'utf8')
    .split('\n')
    .filter((line) => line.endsWith('}'))
    .map((line) => JSON.parse(line).event);
}
