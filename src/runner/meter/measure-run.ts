import { accessSync, constants, statSync } from 'node:fs';
import { err, type Result } from '../../lib/result.ts';
import {
  type Accounting,
  type Exit,
  type MeterOutcome,
  type MeterRequest,
  type NotStarted,
  stopOrder,
} from '../../model/meter.ts';
import type { KeptLength } from './captured-log.ts';
import { findProgram } from './find-program.ts';
import { endLeftBehind, isGroupAlive } from './left-behind.ts';
import { runMark } from './measured-environment.ts';
import { RunStopper } from './stop-run.ts';
import { openStreams, type Streams } from './streams.ts';
import type { Watchdog } from './watchdog.ts';

/** How a kind of meter starts a program and learns how it ended; all else is common to both kinds. */
export interface ProgramStarter {
  readonly adoptsOrphans: boolean;
  start(order: ProgramOrder): Promise<Result<StartedProgram, NotStarted>>;
  reap(pids: readonly number[]): void;
}

export interface ProgramOrder {
  readonly request: MeterRequest;
  /** Absolute path of the file to start. */
  readonly file: string;
  readonly stdin: number;
  readonly stdout: number;
  readonly stderr: number;
}

export interface StartedProgram {
  /** Also its process group. */
  readonly pid: number;
  readonly startTicks: number;
  /** Lets it run, where it could be held back until now. */
  go(): void;
  readonly ended: Promise<Result<ProgramEnd, NotStarted>>;
}

export interface ProgramEnd {
  readonly exit: Exit;
  readonly accounting: Accounting;
}

/** What all runs of one meter share. */
export interface MeterSetting {
  readonly kept: KeptLength;
  readonly watchdog: Watchdog;
}

/** One request from its checks to its outcome. */
export async function measureRun(
  request: MeterRequest,
  starter: ProgramStarter,
  setting: MeterSetting,
): Promise<MeterOutcome> {
  const file = checkRequest(request);
  if (!file.ok) return file.error;
  const streams = openStreams(request, setting.kept);
  if (!streams.ok) return streams.error;
  const { stdin, stdout, stderr } = streams.value;
  const order = {
    request,
    file: file.value,
    stdin: stdin.descriptor,
    stdout: stdout.descriptor,
    stderr: stderr.descriptor,
  };
  try {
    const program = await starter.start(order);
    if (!program.ok) return program.error;
    return await watchProgram(program.value, order, streams.value, starter, setting);
  } finally {
    for (const stream of [stdin, stdout, stderr]) stream.close();
  }
}

async function watchProgram(
  program: StartedProgram,
  { request }: ProgramOrder,
  { stdout, stderr, logs }: Streams,
  starter: ProgramStarter,
  { watchdog }: MeterSetting,
): Promise<MeterOutcome> {
  const { pid } = program;
  const stopper = new RunStopper(request, logs, {
    signal: (name) => signalGroup(pid, name),
    isGroupAlive: () => isGroupAlive(pid),
  });
  // A blocked thread would keep process.exit() waiting for the program.
  const onExit = (): void => signalGroup(pid, 'SIGKILL');
  process.once('exit', onExit);
  watchdog.guard(pid);
  try {
    request.onStart?.(pid);
    stopper.begin();
    program.go();
    const end = await program.ended;
    const stopped = await stopper.programEnded();
    const leftBehind = await endRest(program, request, starter);
    if (!end.ok) return end.error;
    const streams = { stdout: await stdout.finish(), stderr: await stderr.finish() };
    return { kind: 'ended', ...end.value, stopped, leftBehind, ...streams };
  } catch (error) {
    signalGroup(pid, 'SIGKILL');
    throw error;
  } finally {
    stopper.close();
    watchdog.guard(null);
    process.removeListener('exit', onExit);
  }
}

async function endRest(
  { pid, startTicks }: StartedProgram,
  { environment }: MeterRequest,
  starter: ProgramStarter,
): Promise<number> {
  const { count, zombies } = await endLeftBehind({
    group: pid,
    mark: environment[runMark] ?? null,
    startTicks,
    adoptsOrphans: starter.adoptsOrphans,
  });
  starter.reap(zombies);
  return count;
}

function signalGroup(pid: number, name: NodeJS.Signals): void {
  try {
    process.kill(process.platform === 'win32' ? pid : -pid, name);
  } catch {
    // Nobody left in it.
  }
}

/** The file to start, or why it can't be. */
function checkRequest(request: MeterRequest): Result<string, NotStarted> {
  const { argv, environment, workingFolder, abort } = request;
  const order = stopOrder(abort);
  if (order !== null) return refuse('system-error', `${order.message}, before its start`);
  const texts = [...argv, ...Object.entries(environment).flat()];
  if (texts.some((text) => text.includes('\0'))) {
    return refuse('system-error', 'an argument or environment value holds a NUL character');
  }
  if (Object.keys(environment).some((name) => name === '' || name.includes('='))) {
    return refuse('system-error', 'a name in the environment is empty or holds "="');
  }
  const folder = folderFault(workingFolder);
  if (folder !== null) return refuse('no-such-folder', `working folder ${workingFolder} ${folder}`);
  return findProgram(argv[0], environment['PATH'] ?? '', workingFolder);
}

function folderFault(path: string): string | null {
  try {
    if (!statSync(path).isDirectory()) return 'is not a folder';
    accessSync(path, constants.X_OK);
    return null;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    return code === 'ENOENT' ? 'does not exist' : `cannot be entered (${code})`;
  }
}

function refuse(reason: NotStarted['reason'], message: string): Result<never, NotStarted> {
  return err({ kind: 'not-started', reason, message });
}
