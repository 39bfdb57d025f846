import { closeSync, readSync } from 'node:fs';
import { constants } from 'node:os';
import {
  isReadableWithin,
  KernelError,
  makeGroupLeader,
  openPipe,
  reap,
  reapIfEnded,
  sendSignal,
} from './kernel-calls.ts';
import { readPeakBytes } from './process-table.ts';
import { spawnProcess } from './spawn-process.ts';
import type { StartOrder } from './worker-messages.ts';

/** A small shell, our child and leader of its own group, that becomes the program once a line comes through the gate. */
export interface WaitingProgram {
  readonly pid: number;
  /** Our end of the gate. */
  readonly gate: number;
  /** Its largest resident size so far. */
  readonly peakBytes: number;
}

const shell = '/bin/sh';
const patienceMilliseconds = 5000;

/*
 * Why a shell: a program started from Node has Node's own resident size as the least value of its peak memory, since
 * the kernel counts the address space it was started from. A subshell's is below 1 MB (dash; bash 2 MB). It tells
 * its process id and waits; then we kill the launcher around it, so that the subshell becomes our child. A subshell
 * in the background would get SIGINT and SIGQUIT ignored, and keep them so.
 * Descriptors: 0 the gate, 1 the program's output, 2 nowhere, 3 where to tell the id, 4 the program's errors, 5 what it
 * reads.
 */
const script = `(
  read -r steadyrig_pid steadyrig_rest </proc/self/stat &&
  echo "$steadyrig_pid" >&3 &&
  unset steadyrig_pid steadyrig_rest PWD OLDPWD SHLVL &&
  exec 3<&5 5<&- 2>&4 4>&- &&
  read -r steadyrig_rest &&
  exec "$@" 0<&3 3<&-
); :`;

/** Names that shells set, change or interpret themselves: with one of these a program is started without a shell. */
const shellNames =
  /^(?:PWD|OLDPWD|SHLVL|_|IFS|PS[0-9]|OPT[A-Z]+|PPID|LINENO|ENV|E?UID|GROUPS|RANDOM|SECONDS|SRANDOM|EPOCH\w+|(?:SHELL|BASH)\w*|HIST\w+|HOST\w+|MACHTYPE|OSTYPE|COLUMNS|LINES|MAIL\w*|COMP_\w+|DIRSTACK|FUNC\w+|PIPESTATUS|POSIXLY_CORRECT|TMOUT|FC\w*|READLINE_\w+|steadyrig_\w+)$/;

/** Whether a shell hands this environment on unchanged. */
export function passesThroughShell(environment: readonly string[]): boolean {
  return environment.every((entry) => {
    const name = entry.slice(0, entry.indexOf('='));
    return /^[A-Za-z_][A-Za-z0-9_]*$/.test(name) && !shellNames.test(name);
  });
}

/** Null when there is no shell, or it does not do as it should. */
export function launchWaitingProgram(order: StartOrder, nowhere: number): WaitingProgram | null {
  const gate = openPipe();
  const news = openPipe();
  let launcher: number | null = null;
  try {
    launcher = spawnProcess({
      file: shell,
      argv: [shell, '-c', script, 'start', ...order.argv],
      environment: order.environment,
      workingFolder: order.workingFolder,
      user: order.user,
      descriptors: [gate.readEnd, order.stdout, nowhere, news.writeEnd, order.stderr, order.stdin],
    });
  } catch (error) {
    if (!(error instanceof KernelError)) throw error;
  } finally {
    closeSync(gate.readEnd);
    closeSync(news.writeEnd);
  }
  const pid = launcher === null ? null : readPid(news.readEnd);
  closeSync(news.readEnd);
  if (launcher !== null && adopt(launcher, pid) && pid !== null) {
    return { pid, gate: gate.writeEnd, peakBytes: readPeakBytes(pid) ?? 0 };
  }
  closeSync(gate.writeEnd);
  return null;
}

function readPid(descriptor: number): number | null {
  if (!isReadableWithin(descriptor, patienceMilliseconds)) return null;
  const line = Buffer.alloc(32);
  const pid = Number.parseInt(line.toString('latin1', 0, readSync(descriptor, line)), 10);
  return pid > 0 ? pid : null;
}

/** Ends the launcher, which makes the subshell our child, and gives that a group of its own. */
function adopt(launcher: number, pid: number | null): boolean {
  sendSignal(pid === null ? -launcher : launcher, constants.signals.SIGKILL);
  reap(launcher);
  if (pid === null) return false;
  try {
    makeGroupLeader(pid);
    return true;
  } catch (error) {
    if (!(error instanceof KernelError)) throw error;
    sendSignal(pid, constants.signals.SIGKILL);
    reapIfEnded(pid);
    return false;
  }
}
