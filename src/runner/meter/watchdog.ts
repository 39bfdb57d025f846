import { spawn } from 'node:child_process';
import { auxiliaryMark } from './measured-environment.ts';

/** Ends the measured program's group if this process dies without a word (SIGKILL, out of memory). */
export interface Watchdog {
  /** Names the group to end; null when there is none. */
  guard(group: number | null): void;
  close(): void;
}

// Sleeps in `read` until it is told something, or until the other end is gone with us.
const script = `
while read -r line; do group=$line; done
case $group in [1-9]*) kill -s KILL -- "-$group" ;; esac`;

/** A small shell in a session of its own, asleep while programs run. Does nothing where there is no /bin/sh. */
export function startWatchdog(): Watchdog {
  const shell = spawn('/bin/sh', ['-c', script], {
    detached: true,
    stdio: ['pipe', 'ignore', 'ignore'],
    env: { [auxiliaryMark]: 'watchdog' },
    cwd: '/',
  });
  const { stdin } = shell;
  // Without a shell, or when somebody ended it, runs go on unguarded.
  shell.on('error', () => {});
  stdin.on('error', () => {});
  shell.unref();
  (stdin as typeof stdin & { unref?: () => void }).unref?.();
  return {
    guard: (group) => void stdin.write(`${group ?? 'none'}\n`),
    close: () => void stdin.end('none\n'),
  };
}
