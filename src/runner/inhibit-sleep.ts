import { type ChildProcess, spawn } from 'node:child_process';
import { findProgram } from './meter/find-program.ts';
import { auxiliaryMark } from './meter/measured-environment.ts';

/** Sleep and shutdown of the machine, held off or not. */
export interface Inhibition {
  /** Null when both are held off, else what is not, and why. */
  readonly notInhibited: string | null;
  /** Lets go; resolves when the helper is gone. */
  release(): Promise<void>;
}

interface InhibitSetting {
  /** Where `systemd-inhibit` is looked for. */
  readonly path: string;
  /** What users are told who ask what holds the machine up. */
  readonly why: string;
  /** Called once when the helper ends before it was released. */
  readonly onLost: () => void;
}

const program = 'systemd-inhibit';
const answerMilliseconds = 10_000;
/** Says that it was started, then ends with the pipe to us, even after a SIGKILL. */
const held = ['/bin/sh', '-c', 'echo held; exec cat > /dev/null'];

/**
 * Holds off sleep, idle actions and shutdown by logind; where it does not allow all of it, sleep and idle actions alone.
 * Nothing in the system is changed, and everything ends with this process.
 */
export async function inhibitSleep(setting: InhibitSetting): Promise<Inhibition> {
  const found = findProgram(program, setting.path, '/');
  if (!found.ok) return notHeld(`${program} is not found`);
  const all = await startHelper(found.value, 'sleep:idle:shutdown', setting);
  if (typeof all !== 'string') return { notInhibited: null, release: all };
  const some = await startHelper(found.value, 'sleep:idle', setting);
  if (typeof some === 'string') return notHeld(some);
  return { notInhibited: `shutdown is not held off: ${all}`, release: some };
}

function notHeld(reason: string): Inhibition {
  return {
    notInhibited: `sleep and shutdown are not held off: ${reason}`,
    release: async () => undefined,
  };
}

/** How to end the helper once it holds what was asked; else why it does not. */
async function startHelper(
  file: string,
  what: string,
  { why, path, onLost }: InhibitSetting,
): Promise<(() => Promise<void>) | string> {
  const asked = [`--what=${what}`, '--mode=block', '--who=steadyrig', `--why=${why}`];
  // A session of its own: Ctrl-C at the terminal is not meant for it, and nobody is asked for a password.
  const helper = spawn(file, [...asked, ...held], {
    detached: true,
    cwd: '/',
    stdio: ['pipe', 'pipe', 'pipe'],
    env: { PATH: path, LC_ALL: 'C.UTF-8', [auxiliaryMark]: program },
  });
  const ended = new Promise<void>((resolve) => {
    helper.once('close', () => resolve());
    helper.once('error', () => resolve());
  });
  const fault = await answerOf(helper);
  if (fault !== null) {
    endNow(helper);
    return fault;
  }
  let isReleased = false;
  void ended.then(() => {
    if (!isReleased) onLost();
  });
  helper.unref();
  return async () => {
    isReleased = true;
    helper.stdin?.end();
    await ended;
  };
}

/** Null once it is held. */
function answerOf(helper: ChildProcess): Promise<string | null> {
  return new Promise((resolve) => {
    let told = '';
    const timer = setTimeout(
      () => resolve(`${program} did not answer within ${answerMilliseconds / 1000} s`),
      answerMilliseconds,
    );
    const answer = (fault: string | null): void => {
      clearTimeout(timer);
      resolve(fault);
    };
    helper.stdin?.on('error', () => undefined);
    helper.stdout?.on('data', () => answer(null));
    helper.stderr?.setEncoding('utf8').on('data', (text: string) => {
      told = `${told}${text}`.slice(0, 400);
    });
    helper.once('error', (error) => answer(`${program} cannot be started: ${error.message}`));
    helper.once('close', (code) => answer(refusal(told, code)));
  });
}

function refusal(told: string, code: number | null): string {
  const [line = ''] = told.trim().split('\n');
  const words = line.replace(/\p{Cc}/gu, ' ').replace(/\.$/, '');
  return `${program} refused: ${words === '' ? `exit code ${code}` : words}`;
}

function endNow(helper: ChildProcess): void {
  helper.stdin?.end();
  if (helper.exitCode === null) helper.kill('SIGKILL');
}
