import { setPriority } from 'node:os';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Accounting, Exit, Meter, NotStarted, ProgramUser } from '../../model/meter.ts';
import { type KeptLength, keptByDefault } from './captured-log.ts';
import {
  measureRun,
  type ProgramEnd,
  type ProgramOrder,
  type ProgramStarter,
  type StartedProgram,
} from './measure-run.ts';
import { readProcess } from './process-table.ts';
import { readProgramFormat } from './program-format.ts';
import { startWatchdog } from './watchdog.ts';

/**
 * A meter on Node's own child processes, for where the kernel's calls can't be made: wall time only, taken when the
 * event loop hears of the end, so some milliseconds late; no CPU affinity.
 */
export async function openPortableMeter(kept: KeptLength = keptByDefault): Promise<Meter> {
  const { execa } = await import('execa');
  const setting = { kept, watchdog: startWatchdog() };
  const starter = new PortableStarter(execa);
  return {
    name: 'portable',
    measure: (request) => measureRun(request, starter, setting),
    close: async () => setting.watchdog.close(),
  };
}

/** Of util-linux: part of every Linux system that has more than one user. */
const setprivPath = '/usr/bin/setpriv';

type Execa = typeof import('execa').execa;

class PortableStarter implements ProgramStarter {
  readonly adoptsOrphans = false;
  readonly #execa: Execa;

  constructor(execa: Execa) {
    this.#execa = execa;
  }

  async start({
    request,
    file,
    stdin,
    stdout,
    stderr,
  }: ProgramOrder): Promise<Result<StartedProgram, NotStarted>> {
    const { argv, environment, workingFolder, affinity, priority, user } = request;
    if (affinity !== null) {
      return refuse('system-error', 'CPU affinity was asked for, which needs the kernel meter');
    }
    // Node would have a shell run such a file.
    if (process.platform === 'linux' && readProgramFormat(file) === 'unknown') {
      return refuse(
        'not-executable',
        `${file} is neither a program nor a script that names its interpreter`,
      );
    }
    const [start, ...rest] = startedAs(user ?? null, [file, ...argv.slice(1)]);
    const begin = process.hrtime.bigint();
    const program = this.#execa(start, rest, {
      cwd: workingFolder,
      env: environment,
      extendEnv: false,
      // The types know descriptors up to 9 only.
      stdin: stdin as 3,
      stdout: stdout as 3,
      stderr: stderr as 3,
      buffer: false,
      reject: false,
      detached: true,
    });
    const ended = new Promise<ProgramEnd>((resolve) => {
      program.once('exit', (code, signal) => {
        const wallSeconds = Number(process.hrtime.bigint() - begin) / 1e9;
        resolve({ exit: toExit(code, signal), accounting: wallOnly(wallSeconds) });
      });
    });
    const { pid } = program;
    if (pid === undefined) return explain(file, await program);
    const startTicks = readProcess(pid)?.startTicks ?? 0;
    const fault = applyPriority(pid, priority);
    if (fault !== null) {
      program.kill('SIGKILL');
      await ended;
      return fault;
    }
    return ok({ pid, startTicks, go: () => {}, ended: ended.then(ok) });
  }

  reap(): void {
    // Orphans of a run become children of init.
  }
}

/** Node could change user and group, but would drop the user's other groups. Taking setpriv's path takes about a millisecond. */
function startedAs(
  user: ProgramUser | null,
  argv: readonly [string, ...string[]],
): readonly [string, ...string[]] {
  if (user === null) return argv;
  const { uid, gid, groups } = user;
  const others = groups.length === 0 ? '--clear-groups' : `--groups=${groups.join(',')}`;
  return [setprivPath, `--reuid=${uid}`, `--regid=${gid}`, others, '--', ...argv];
}

function applyPriority(pid: number, priority: number | null): Result<never, NotStarted> | null {
  if (priority === null) return null;
  try {
    setPriority(pid, priority);
    return null;
  } catch (error) {
    const message = `priority ${priority} was refused (${(error as Error).message}): a value below 0 needs a privilege`;
    return refuse('system-error', message);
  }
}

function toExit(code: number | null, signal: NodeJS.Signals | null): Exit {
  return signal === null ? { kind: 'code', code: code ?? 0 } : { kind: 'signal', signal };
}

function wallOnly(wallSeconds: number): Accounting {
  return {
    wallSeconds,
    userSeconds: null,
    systemSeconds: null,
    peakMemory: null,
    minorFaults: null,
    majorFaults: null,
    voluntarySwitches: null,
    involuntarySwitches: null,
  };
}

/** The file was found and the folder entered before, so what is missing is what the file names. */
function explain(
  file: string,
  failed: { readonly code?: string | undefined; readonly originalMessage?: string | undefined },
): Result<never, NotStarted> {
  const { code, originalMessage } = failed;
  if (code === 'ENOENT') {
    return refuse('not-executable', `${file} names an interpreter or loader that does not exist`);
  }
  const denied = code === 'EACCES' || code === 'ENOEXEC' || code === 'EPERM';
  return refuse(
    denied ? 'not-executable' : 'system-error',
    `${file} could not be started: ${originalMessage ?? code}`,
  );
}

function refuse(reason: NotStarted['reason'], message: string): Result<never, NotStarted> {
  return err({ kind: 'not-started', reason, message });
}
