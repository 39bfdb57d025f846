import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { onTestFinished, vi } from 'vitest';

const main = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));

/** A real terminal of 80 columns in which the compiled command runs. */
export interface Terminal {
  /** All that is and was on the screen, lines joined that the terminal broke. */
  screen(): string;
  /** Resolves with the screen once the text is there. */
  see(text: string | RegExp): Promise<string>;
  /** Types a line and Enter. */
  type(line: string): void;
  /** Presses one key, by its name: `C-c`, `C-d`. */
  press(key: string): void;
  /** Takes the terminal away, as a lost connection does. */
  hangUp(): void;
}

let opened = 0;

/**
 * Starts `node main.js COMMAND` in a pseudo-terminal of tmux, gone when the test has finished. The screen ends in `exit N` when
 * the command has ended. `command` is a shell text, so that a test can redirect.
 */
export function openTerminal(tmux: string, command: string, cwd: string): Terminal {
  opened += 1;
  const socket = `steadyrig-test-${process.pid}-${opened}`;
  const call = (...args: string[]): string =>
    execFileSync(tmux, ['-L', socket, ...args], { encoding: 'utf8' });
  // Ctrl-C reaches this shell too, which has to stay and tell the exit code.
  const line = `trap : INT; unset NO_COLOR FORCE_COLOR CI; '${process.execPath}' '${main}' ${command}; echo exit $?; exec cat`;
  const shell = ['/bin/sh', '-c', line];
  call('-f', '/dev/null', 'new-session', '-d', '-x', '80', '-y', '50', '-c', cwd, ...shell);
  let isUp = true;
  const hangUp = (): void => {
    if (isUp) call('kill-server');
    isUp = false;
  };
  onTestFinished(hangUp);
  const screen = (): string => call('capture-pane', '-p', '-J', '-S', '-');
  return {
    screen,
    see: (text) =>
      vi.waitFor(
        () => {
          const shown = screen();
          const found = typeof text === 'string' ? shown.includes(text) : text.test(shown);
          if (!found) throw new Error(`not on the screen: ${text}\n${shown.trimEnd()}`);
          return shown;
        },
        { timeout: 30_000, interval: 50 },
      ),
    type: (text) => void call('send-keys', '-l', text) + call('send-keys', 'Enter'),
    hangUp,
    press: (key) => void call('send-keys', key),
  };
}
